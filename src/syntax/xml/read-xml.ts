import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import { readDoctype } from './read-doctype.ts';
import type { EntityKind } from './read-doctype.ts';
import { isPredefined, isXmlCodePoint, nameCharacters, nameSource, notXmlCharacter } from './xml-characters.ts';
import { XmlMistake } from './xml-mistake.ts';
import type { XmlAttribute, XmlDocument, XmlElement, XmlParent } from './xml-node.ts';

/** Deeper texts are refused: no configuration is so deep, and readers recurse. */
const deepestXml = 2000;

export interface XmlRead {
  readonly document: XmlDocument | undefined;
  readonly findings: readonly Finding[];
}

const declaration =
  /<\?xml[ \t\r\n]+version[ \t\r\n]*=[ \t\r\n]*(?:"1\.[0-9]+"|'1\.[0-9]+')(?:[ \t\r\n]+encoding[ \t\r\n]*=[ \t\r\n]*(?:"([A-Za-z][A-Za-z0-9._-]*)"|'([A-Za-z][A-Za-z0-9._-]*)'))?(?:[ \t\r\n]+standalone[ \t\r\n]*=[ \t\r\n]*(?:"(yes|no)"|'(yes|no)'))?[ \t\r\n]*\?>/y;

/**
 * Reads XML 1.0 with the place of everything. Several top elements, or none, are allowed. Entities other than XML's
 * own five are left as they stand, outside files are never opened. A mistake gives one finding, the first in the text.
 */
export function readXml(source: SourceText): XmlRead {
  try {
    const reader = new XmlReader(source.text);
    const document = reader.read();
    const { opaqueAt } = reader;
    if (opaqueAt === undefined) return { document, findings: [] };
    const kept = makeFinding('xml-entity-kept', {
      detail: `${source.name} names an entity of its document type. It is not expanded: values that hold one can be neither read nor set.`,
      wayOut: "Where such a value is to be set, write the entity's text in its place first.",
      place: { source, span: opaqueAt },
    });
    return { document, findings: [kept] };
  } catch (mistake) {
    if (!(mistake instanceof XmlMistake)) throw mistake;
    const deep = mistake.message === 'deep';
    const finding = makeFinding(deep ? 'nested-too-deep' : 'xml-unreadable', {
      detail: deep
        ? `${source.name} is nested deeper than ${deepestXml} levels. It is left as it is.`
        : `${source.name} is not XML that can be read: ${mistake.message}. It is left as it is.`,
      wayOut: deep
        ? 'Check that the file is the one you meant; a configuration is never so deep.'
        : 'Mend the text at the place shown, then run the command again.',
      place: { source, span: { start: mistake.start, end: Math.max(mistake.start, mistake.end) } },
    });
    return { document: undefined, findings: [finding] };
  }
}

class XmlReader {
  opaqueAt: { readonly start: number; readonly end: number } | undefined;
  readonly #text: string;
  readonly #document: XmlDocument = { kind: 'document', pieces: [], encoding: undefined };
  readonly #name = new RegExp(nameSource, 'uy');
  readonly #blank = /[ \t\r\n]*/y;
  /** Whether entities may be declared where we do not look, and those declared where we do. */
  #declaredElsewhere = false;
  #standalone = false;
  #declared: ReadonlyMap<string, EntityKind> = new Map();
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  read(): XmlDocument {
    const text = this.#text;
    const bad = notXmlCharacter.exec(text);
    if (bad !== null) {
      const what =
        bad[0] === '\0'
          ? 'it holds a NUL: a binary file, or a text in UTF-16'
          : 'it holds a character that XML may not hold';
      throw new XmlMistake(what, bad.index, bad.index + 1);
    }
    if (text.startsWith('\ufeff')) this.#at = 1;
    this.#declaration();
    const open: XmlElement[] = [];
    let parent: XmlParent = this.#document;
    while (this.#at < text.length) {
      const start = this.#at;
      if (text[start] !== '<') {
        const next = text.indexOf('<', start);
        this.#characters(parent, next < 0 ? text.length : next);
      } else if (text.startsWith('</', start)) {
        const element = open.pop();
        const name = this.#nameAt(start + 2, 'a closing tag');
        if (element?.name !== name) {
          const due = element === undefined ? 'no element is open' : `'</${element.name}>' is due`;
          throw new XmlMistake(`'</${name}>' stands where ${due}`, start, this.#at);
        }
        this.#skipBlank();
        this.#expect('>', 'a closing tag ends in >');
        element.closeStart = start;
        element.end = this.#at;
        parent = element.parent;
      } else if (text.startsWith('<!--', start)) this.#comment(parent);
      else if (text.startsWith('<![CDATA[', start)) this.#cdata(parent);
      else if (text.startsWith('<?', start)) this.#instruction(parent);
      else if (text.startsWith('<!DOCTYPE', start)) this.#doctype(parent);
      else {
        const element = this.#element(parent);
        parent.pieces.push(element);
        if (!element.selfClosing) {
          if (open.length >= deepestXml) throw new XmlMistake('deep', start, element.openEnd);
          open.push(element);
          parent = element;
        }
      }
    }
    const left = open.at(-1);
    if (left !== undefined) throw new XmlMistake(`'<${left.name}>' is not closed`, left.start, left.openEnd);
    return this.#document;
  }

  #declaration(): void {
    if (
      !this.#text.startsWith('<?xml', this.#at) ||
      new RegExp(`[${nameCharacters}]`, 'u').test(this.#text[this.#at + 5] ?? '')
    )
      return;
    declaration.lastIndex = this.#at;
    const found = declaration.exec(this.#text);
    if (found === null) throw new XmlMistake('the XML declaration is malformed', this.#at, this.#at + 5);
    this.#document.encoding = (found[1] ?? found[2])?.toUpperCase();
    this.#standalone = (found[3] ?? found[4]) === 'yes';
    this.#data(this.#document, 'declaration', this.#at + found[0].length);
  }

  #data(
    parent: XmlParent,
    kind: 'text' | 'cdata' | 'comment' | 'instruction' | 'declaration' | 'doctype',
    end: number,
    opaque = false,
  ): void {
    parent.pieces.push({ kind, start: this.#at, end, opaque });
    this.#at = end;
  }

  #characters(parent: XmlParent, end: number): void {
    const raw = this.#text.slice(this.#at, end);
    if (parent.kind === 'document' && /[^ \t\r\n]/.test(raw)) {
      const at = this.#at + raw.search(/[^ \t\r\n]/);
      throw new XmlMistake('text stands outside all elements', at, at + 1);
    }
    const marked = raw.indexOf(']]>');
    if (marked >= 0)
      throw new XmlMistake(
        "']]>' stands in a text, where it must be written ']]&gt;'",
        this.#at + marked,
        this.#at + marked + 3,
      );
    this.#data(parent, 'text', end, this.#references(raw, this.#at, false));
  }

  /** Checks the references of a text or attribute value. Whether one is to an entity that is not XML's own. */
  #references(raw: string, start: number, inAttribute: boolean): boolean {
    if (!raw.includes('&')) return false;
    const references = new RegExp(`&(?:#x([0-9a-fA-F]+);|#([0-9]+);|(${nameSource});|)`, 'gu');
    let opaque = false;
    for (const found of raw.matchAll(references)) {
      const [all, hex, decimal, name] = found;
      const at = start + found.index;
      const end = at + all.length;
      if (hex !== undefined || decimal !== undefined) {
        const point = hex === undefined ? Number.parseInt(decimal ?? '', 10) : Number.parseInt(hex, 16);
        if (!isXmlCodePoint(point))
          throw new XmlMistake('a reference names a character that XML may not hold', at, end);
      } else if (name === undefined) {
        throw new XmlMistake("'&' stands for itself, where it must be written '&amp;'", at, at + 1);
      } else if (!isPredefined(name)) {
        if (!this.#declaredElsewhere && !this.#declared.has(name)) {
          throw new XmlMistake(`the entity '&${name};' is not declared`, at, end);
        }
        const kind = this.#declared.get(name);
        if (kind === 'unparsed' || (kind === 'external' && inAttribute)) {
          throw new XmlMistake(`the entity '&${name};' names an outside file, which may not stand here`, at, end);
        }
        opaque = true;
        this.opaqueAt ??= { start: at, end };
      }
    }
    return opaque;
  }

  #comment(parent: XmlParent): void {
    const start = this.#at;
    const dashes = this.#text.indexOf('--', start + 4);
    if (dashes < 0) throw new XmlMistake('a comment is not closed', start, start + 4);
    if (this.#text[dashes + 2] !== '>') throw new XmlMistake("'--' stands inside a comment", dashes, dashes + 2);
    this.#data(parent, 'comment', dashes + 3);
  }

  #cdata(parent: XmlParent): void {
    const start = this.#at;
    const end = this.#text.indexOf(']]>', start + 9);
    if (end < 0) throw new XmlMistake('a CDATA section is not closed', start, start + 9);
    if (parent.kind === 'document') throw new XmlMistake('text stands outside all elements', start, end + 3);
    this.#data(parent, 'cdata', end + 3);
  }

  #instruction(parent: XmlParent): void {
    const start = this.#at;
    const target = this.#nameAt(start + 2, 'a processing instruction');
    if (target.toLowerCase() === 'xml')
      throw new XmlMistake('an XML declaration stands elsewhere than at the start', start, this.#at);
    const end = this.#text.indexOf('?>', this.#at);
    if (end < 0) throw new XmlMistake('a processing instruction is not closed', start, this.#at);
    if (end > this.#at && !/[ \t\r\n]/.test(this.#text[this.#at] ?? ''))
      throw new XmlMistake('a blank is due after the name of a processing instruction', this.#at, this.#at + 1);
    this.#at = start;
    this.#data(parent, 'instruction', end + 2);
  }

  #doctype(parent: XmlParent): void {
    const start = this.#at;
    if (parent.kind !== 'document' || parent.pieces.some(({ kind }) => kind === 'element' || kind === 'doctype')) {
      throw new XmlMistake('a document type stands elsewhere than before the first element', start, start + 9);
    }
    const { end, entities, elsewhere } = readDoctype(this.#text, start);
    this.#declared = entities;
    this.#declaredElsewhere = elsewhere && !this.#standalone;
    this.#data(parent, 'doctype', end);
  }

  #element(parent: XmlParent): XmlElement {
    const text = this.#text;
    const start = this.#at;
    const name = this.#nameAt(start + 1, 'an element');
    const nameEnd = this.#at;
    const attributes: XmlAttribute[] = [];
    const names = new Set<string>();
    for (;;) {
      const blank = this.#skipBlank();
      const next = text[this.#at];
      if (next === '>' || next === '/') break;
      const at = this.#at;
      if (next === undefined) throw new XmlMistake(`the tag '<${name}' is not closed`, start, nameEnd);
      if (blank === 0) throw new XmlMistake('a blank is due between attributes', at, at + 1);
      const attribute = this.#attribute();
      if (names.has(attribute.name))
        throw new XmlMistake(`the attribute '${attribute.name}' stands twice`, at, attribute.end);
      names.add(attribute.name);
      attributes.push(attribute);
    }
    const selfClosing = text[this.#at] === '/';
    if (selfClosing) this.#at += 1;
    this.#expect('>', `the tag '<${name}' ends in >`);
    const openEnd = this.#at;
    return {
      kind: 'element',
      name,
      start,
      nameEnd,
      attributes,
      openEnd,
      selfClosing,
      parent,
      index: parent.pieces.length,
      pieces: [],
      closeStart: openEnd,
      end: openEnd,
    };
  }

  #attribute(): XmlAttribute {
    const text = this.#text;
    const start = this.#at;
    const name = this.#nameAt(start, 'an attribute');
    this.#skipBlank();
    this.#expect('=', `the attribute '${name}' has a value`);
    this.#skipBlank();
    const quote = text[this.#at];
    if (quote !== '"' && quote !== "'")
      throw new XmlMistake(`the value of the attribute '${name}' has no quotes`, this.#at, this.#at + 1);
    const valueStart = this.#at + 1;
    const valueEnd = text.indexOf(quote, valueStart);
    if (valueEnd < 0)
      throw new XmlMistake(`the value of the attribute '${name}' is not closed`, this.#at, this.#at + 1);
    const raw = text.slice(valueStart, valueEnd);
    const less = raw.indexOf('<');
    if (less >= 0)
      throw new XmlMistake(
        "'<' stands in an attribute, where it must be written '&lt;'",
        valueStart + less,
        valueStart + less + 1,
      );
    const opaque = this.#references(raw, valueStart, true);
    this.#at = valueEnd + 1;
    return { name, start, end: valueEnd + 1, valueStart, valueEnd, opaque };
  }

  #nameAt(at: number, of: string): string {
    this.#name.lastIndex = at;
    const name = this.#name.exec(this.#text)?.[0];
    if (name === undefined) throw new XmlMistake(`the name of ${of} is missing or malformed`, at, at + 1);
    this.#at = at + name.length;
    return name;
  }

  #skipBlank(): number {
    this.#blank.lastIndex = this.#at;
    const length = this.#blank.exec(this.#text)?.[0].length ?? 0;
    this.#at += length;
    return length;
  }

  #expect(character: string, rule: string): void {
    if (this.#text[this.#at] !== character)
      throw new XmlMistake(`'${character}' is due here: ${rule}`, this.#at, this.#at + 1);
    this.#at += 1;
  }
}
