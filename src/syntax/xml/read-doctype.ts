import { XmlMistake } from './xml-mistake.ts';
import { nameSource } from './xml-characters.ts';

export interface Doctype {
  readonly end: number;
  /** The general entities that the internal subset declares. They are never expanded. */
  readonly entities: ReadonlySet<string>;
  /** Whether entities may be declared where we do not look: in outside files or by parameter entities. */
  readonly elsewhere: boolean;
}

/** Skips a document type declaration (production 28), outside files never opened. */
export function readDoctype(text: string, start: number): Doctype {
  const entities = new Set<string>();
  let elsewhere = false;
  let inSubset = false;
  const token = /"[^"]*"|'[^']*'|<!--[^]*?-->|<\?[^]*?\?>|[[\]<>]|%/g;
  token.lastIndex = start + 9;
  const head = new RegExp(`<!ENTITY[ \\t\\r\\n]+(${nameSource})[ \\t\\r\\n]`, 'uy');
  for (let found = token.exec(text); found !== null; found = token.exec(text)) {
    const at = found.index;
    if (found[0] === '[') inSubset = true;
    else if (found[0] === ']') inSubset = false;
    else if (found[0] === '%' && inSubset) elsewhere = true;
    else if (found[0] === '<') {
      head.lastIndex = at;
      const name = head.exec(text)?.[1];
      if (name !== undefined) entities.add(name);
    } else if (found[0] === '>' && !inSubset) {
      elsewhere ||= /^<!DOCTYPE[^[>]*(?:SYSTEM|PUBLIC)/.test(text.slice(start, at + 1));
      return { end: at + 1, entities, elsewhere };
    }
  }
  throw new XmlMistake('the document type is not closed', start, start + 9);
}
