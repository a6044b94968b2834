import { parseTOML } from 'toml-eslint-parser';
import type { AST } from 'toml-eslint-parser';
import type { Span } from '../../text/span.ts';
import { scanToml } from './scan-toml.ts';
import type {
  TomlArray,
  TomlDocument,
  TomlEntry,
  TomlHome,
  TomlInline,
  TomlNode,
  TomlSection,
  TomlTable,
} from './toml-model.ts';

/** Deeper brackets, or dotted keys of more names, are refused: the reader below recurses. */
export const tomlDepth = 200;
/** UTF-16 units of one string or comment: the library spreads a string's characters over the call stack. */
export const tomlToken = 50_000;
/** UTF-16 units of a whole text: a configuration file of more is no configuration file. */
export const tomlSize = 8_388_608;

export type ReadToml =
  | { readonly kind: 'read'; readonly document: TomlDocument }
  | { readonly kind: 'bad'; readonly why: string; readonly at: number }
  | { readonly kind: 'too-deep' | 'too-long' | 'too-large'; readonly at: number };

/**
 * Reads TOML 1.0 (toml.io/en/v1.0.0) into tables whose values know their places. Bytes that are not UTF-8 come in
 * as lone surrogates and are kept. Never throws.
 */
export function readToml(text: string): ReadToml {
  if (text.length > tomlSize) return { kind: 'too-large', at: 0 };
  const scan = scanToml(text);
  if (scan.deepest.depth > tomlDepth) return { kind: 'too-deep', at: scan.deepest.at };
  if (scan.longest.length > tomlToken) return { kind: 'too-long', at: scan.longest.at };
  const loneReturn = /\r(?!\n)/.exec(text);
  if (loneReturn !== null)
    return { kind: 'bad', why: 'A carriage return must be followed by a line feed', at: loneReturn.index };
  const shift = text.startsWith('\ufeff') ? 1 : 0;
  let program: AST.TOMLProgram;
  try {
    // toml-eslint-parser 1.0 gives an empty range to a zero that ends the text.
    const end = text.endsWith('\n') ? '' : '\n';
    program = parseTOML(text.slice(shift) + end, { tomlVersion: '1.0' });
  } catch (error) {
    return { kind: 'bad', ...whatIsWrong(error), at: Math.min(placeOf(error) + shift, text.length) };
  }
  const builder = new Builder(text, shift);
  const document = builder.build(program);
  return builder.tooDeep === undefined ? { kind: 'read', document } : { kind: 'too-deep', at: builder.tooDeep };
}

function placeOf(error: unknown): number {
  return error instanceof SyntaxError && 'index' in error && typeof error.index === 'number' ? error.index : 0;
}

function whatIsWrong(error: unknown): { why: string } {
  return { why: error instanceof Error ? error.message : 'It cannot be read.' };
}

const nameOf = (key: AST.TOMLBare | AST.TOMLQuoted): string => (key.type === 'TOMLBare' ? key.name : key.value);

class Builder {
  readonly #text: string;
  readonly #shift: number;
  readonly #sections: TomlSection[] = [];
  /** Where a key lies deeper than `tomlDepth` names; what is below it is then left out. */
  tooDeep: number | undefined;

  constructor(text: string, shift: number) {
    this.#text = text;
    this.#shift = shift;
  }

  #span(range: readonly [number, number]): Span {
    return { start: range[0] + this.#shift, end: range[1] + this.#shift };
  }

  build(program: AST.TOMLProgram): TomlDocument {
    const { length } = this.#text;
    const top: TomlSection = { kind: 'section', header: undefined, ofArray: false, entries: [], limit: length };
    this.#sections.push(top);
    const root = table([], { kind: 'section', section: top, prefix: [] });
    let current = top;
    for (const part of program.body[0].body) {
      if (part.type === 'TOMLKeyValue') {
        this.#pair(root, part, top);
        continue;
      }
      // The library's range of a table begins at its first bracket and ends with its last value.
      const key = this.#span(part.key.range);
      if (part.key.keys.length > tomlDepth) {
        this.tooDeep ??= key.start;
        continue;
      }
      const start = this.#span(part.range).start;
      current.limit = start;
      const ofArray = part.kind === 'array';
      current = { kind: 'section', header: { start, end: key.end }, ofArray, entries: [], limit: length };
      this.#sections.push(current);
      const owner = openTable(root, part.key.keys.map(nameOf), current);
      for (const pair of part.body) this.#pair(owner, pair, current);
    }
    return { root, sections: this.#sections };
  }

  /** Adds `a.b.c = value` to a table, making the tables that its dotted key names. */
  #pair(owner: TomlTable, pair: AST.TOMLKeyValue, inside: TomlSection | TomlInline): void {
    const entry: TomlEntry = {
      span: this.#span(pair.range),
      valueSpan: this.#span(pair.value.range),
      inside,
      index: inside.entries.length,
    };
    inside.entries.push(entry);
    const names = pair.key.keys.map(nameOf);
    if (owner.header.length + names.length > tomlDepth) {
      this.tooDeep ??= entry.span.start;
      return;
    }
    const leaf = names.pop() ?? '';
    let at = owner;
    touch(at, entry);
    const prefix: string[] = at.home.kind === 'none' ? [] : [...at.home.prefix];
    for (const name of names) {
      prefix.push(name);
      const known = at.members.get(name)?.node;
      if (known?.kind === 'table') at = known;
      else {
        const home: TomlHome =
          inside.kind === 'section'
            ? { kind: 'section', section: inside, prefix: [...prefix] }
            : { kind: 'inline', inline: inside, prefix: [...prefix] };
        const made = table([...at.header, name], home);
        at.members.set(name, { node: made });
        at = made;
      }
      touch(at, entry);
    }
    at.members.set(leaf, { node: this.#value(pair.value, [...at.header, leaf]), entry });
  }

  #value(value: AST.TOMLContentNode, header: readonly string[]): TomlNode {
    const span = this.#span(value.range);
    if (value.type === 'TOMLArray') {
      const items = value.elements.map((item) => this.#value(item, header));
      return { kind: 'array', span, items } satisfies TomlArray;
    }
    if (value.type === 'TOMLInlineTable') {
      const inline: TomlInline = { kind: 'inline', span, entries: [] };
      const made = table(header, { kind: 'inline', inline, prefix: [] });
      for (const pair of value.body) this.#pair(made, pair, inline);
      return made;
    }
    if (value.kind === 'string') return { kind: 'scalar', span, text: value.value, literal: false };
    return { kind: 'scalar', span, text: this.#text.slice(span.start, span.end), literal: true };
  }
}

function table(header: readonly string[], home: TomlHome): TomlTable {
  return { kind: 'table', members: new Map(), home, header };
}

function touch(at: TomlTable, entry: TomlEntry): void {
  if (at.home.kind !== 'none') at.home.last = entry;
}

/** The table that a header opens; an array of tables on the way means its last item. The library checked the rest. */
function openTable(root: TomlTable, names: readonly string[], section: TomlSection): TomlTable {
  let at = root;
  names.forEach((name, k) => {
    const last = k === names.length - 1;
    const header = [...at.header, name];
    const known = at.members.get(name)?.node;
    if (last && section.ofArray) {
      const made = table(header, { kind: 'section', section, prefix: [] });
      if (known?.kind === 'tables') known.items.push(made);
      else at.members.set(name, { node: { kind: 'tables', items: [made] } });
      at = made;
      return;
    }
    if (known?.kind === 'table') at = known;
    else if (known?.kind === 'tables' && known.items.length > 0) at = known.items.at(-1) ?? at;
    else {
      const made = table(header, { kind: 'none' });
      at.members.set(name, { node: made });
      at = made;
    }
    if (last) at.home = { kind: 'section', section, prefix: [] };
  });
  return at;
}
