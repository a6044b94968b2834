import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxName, SyntaxValue, Tree } from '../contract.ts';
import type { BadLine, KeyedGrammar, KeyedLine, SectionLine } from './keyed-line.ts';
import { LineStops, afterLineEnd, firstLine, lineStop } from './physical-lines.ts';

/** The keys of one section by name. The group without a header holds the keys before any section. */
export interface KeyGroup {
  /** The section's name as first written; undefined for the keys before any section. */
  readonly name: string | undefined;
  /** The headers whose keys count, by the style's rule for repeated sections. */
  readonly headers: Set<SectionLine>;
  /** In file order, duplicates included. */
  lines: KeyedLine[];
  /** By folded name: the line that the program reads. */
  readonly effective: Map<string, KeyedLine>;
}

/** A key path taken apart. */
export interface KeyName {
  readonly section: string | undefined;
  readonly name: string;
}

/** A text whose keys stand on lines: pairs, ini, properties. */
export class KeyedTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly syntax: SyntaxName;
  readonly grammar: KeyedGrammar;
  readonly top: KeyGroup;
  readonly groups: ReadonlyMap<string, KeyGroup>;
  /** Every header of the text, in file order. */
  readonly headers: readonly SectionLine[];
  /** Every key and header line, in file order, those that do not count included. */
  readonly order: readonly (KeyedLine | SectionLine)[];

  constructor(syntax: SyntaxName, source: SourceText, style: Style, grammar: KeyedGrammar, read: ReadLines) {
    this.syntax = syntax;
    this.source = source;
    this.style = style;
    this.grammar = grammar;
    this.top = read.top;
    this.groups = read.groups;
    this.headers = read.headers;
    this.order = read.order;
  }

  keys(): readonly KeyPlace[] {
    const places: KeyPlace[] = [];
    for (const group of [this.top, ...this.groups.values()]) {
      for (const line of group.lines) {
        if (group.effective.get(this.grammar.fold(line.name)) !== line) continue;
        const path = group.name === undefined ? line.name : `[${group.name}] ${line.name}`;
        // A name such as `a] b` may be hidden by a key whose path reads the same.
        if (this.line(path) === line) places.push(placeOf(path, line));
      }
    }
    return this.groups.size === 0 ? places : places.sort((a, b) => a.span.start - b.span.start);
  }

  get(path: string): SyntaxValue | undefined {
    const line = this.line(path);
    return line === undefined ? undefined : this.valueOf(line);
  }

  /** Where the style says what joins lists, a bare value that holds it is a list. */
  valueOf(line: KeyedLine): SyntaxValue {
    const { text } = this.source;
    const value = this.grammar.valueOf(text, line);
    const { list } = this.style;
    if (list === undefined || list === '') return { kind: 'scalar', text: value };
    const mark = listMark(list);
    if (!value.includes(mark) || this.grammar.quoteOf(text.slice(line.valueStart, line.valueEnd)) !== '') {
      return { kind: 'scalar', text: value };
    }
    return { kind: 'list', items: value.split(mark).map((item) => ({ text: item.trim() })) };
  }

  find(path: string): KeyPlace | undefined {
    const line = this.line(path);
    return line === undefined ? undefined : placeOf(path, line);
  }

  line(path: string): KeyedLine | undefined {
    const key = this.locate(path);
    return this.group(key.section)?.effective.get(this.grammar.fold(key.name));
  }

  group(section: string | undefined): KeyGroup | undefined {
    return section === undefined ? this.top : this.groups.get(this.grammar.fold(section));
  }

  /** Takes a well formed path apart. Where a section's name holds `] `, the reading that names a key is taken. */
  locate(path: string): KeyName {
    if (!this.grammar.sectioned || !path.startsWith('[')) return { section: undefined, name: path };
    let first: KeyName | undefined;
    for (let at = path.indexOf('] '); at >= 0; at = path.indexOf('] ', at + 1)) {
      const key: KeyName = { section: path.slice(1, at), name: path.slice(at + 2) };
      if (this.group(key.section)?.effective.has(this.grammar.fold(key.name)) === true) return key;
      first ??= key;
    }
    return first ?? { section: undefined, name: path };
  }
}

/** What parts the items of a list: blanks around a mark count for nothing. */
export function listMark(separator: string): string {
  return separator.trim() === '' ? separator : separator.trim();
}

function placeOf(path: string, line: KeyedLine): KeyPlace {
  return {
    path,
    span: { start: line.start, end: line.stop },
    valueSpan: { start: line.valueStart, end: line.valueEnd },
  };
}

/** What one pass over a text found. */
export interface ReadLines {
  readonly top: KeyGroup;
  readonly groups: ReadonlyMap<string, KeyGroup>;
  readonly headers: readonly SectionLine[];
  readonly order: readonly (KeyedLine | SectionLine)[];
}

const newGroup = (name: string | undefined): KeyGroup => ({
  name,
  headers: new Set(),
  lines: [],
  effective: new Map(),
});

/** How many unreadable lines of one text are told. */
const told = 20;

/** Reads a text in one pass. Lines that cannot be read give findings and no tree: the program refuses it as well. */
export function readKeyed(
  syntax: SyntaxName,
  source: SourceText,
  style: Style,
  grammar: KeyedGrammar,
): { readonly tree: Tree | undefined; readonly findings: readonly Finding[] } {
  const { text } = source;
  const findings: Finding[] = [];
  const top = newGroup(undefined);
  const groups = new Map<string, KeyGroup>();
  const headers: SectionLine[] = [];
  const order: (KeyedLine | SectionLine)[] = [];
  const { duplicates = 'last', sections = 'merge' } = style;
  const stops = new LineStops(text);
  let group: KeyGroup | undefined = top;
  for (let at = firstLine(text); at < text.length;) {
    let stop = stops.at(at);
    const read = grammar.read(text, at, stop);
    if (read === undefined) {
      // A comment, a blank line, a heading.
    } else if (read.kind === 'key') {
      stop = read.stop;
      order.push(read);
      if (group !== undefined) {
        const folded = grammar.fold(read.name);
        group.lines.push(read);
        const earlier = duplicates === 'last' ? undefined : group.effective.get(folded);
        if (earlier === undefined) group.effective.set(folded, read);
        else if (duplicates === 'error' && findings.length < told) findings.push(duplicate(source, earlier, read));
      }
    } else if (read.kind === 'section') {
      stop = read.stop;
      headers.push(read);
      order.push(read);
      const folded = grammar.fold(read.name);
      const known = groups.get(folded);
      if (known === undefined) groups.set(folded, (group = newGroup(read.name)));
      else group = sections === 'first' ? undefined : known;
      if (known !== undefined && sections === 'last') {
        known.headers.clear();
        known.lines = [];
        known.effective.clear();
      }
      group?.headers.add(read);
    } else if (findings.length < told) findings.push(unreadable(source, read));
    at = afterLineEnd(text, stop);
  }
  if (findings.length > 0) return { tree: undefined, findings };
  return { tree: new KeyedTree(syntax, source, style, grammar, { top, groups, headers, order }), findings };
}

function unreadable(source: SourceText, { code, at, detail, wayOut }: BadLine): Finding {
  return makeFinding(code, { detail, wayOut, place: { source, span: { start: at, end: lineStop(source.text, at) } } });
}

function duplicate(source: SourceText, first: KeyedLine, second: KeyedLine): Finding {
  return makeFinding('key-given-twice', {
    detail: `The key ${JSON.stringify(second.name)} stands here a second time, and the program that owns this file refuses that.`,
    wayOut: 'Take out one of the two lines by hand.',
    place: { source, span: { start: second.keyStart, end: second.keyEnd } },
    related: [{ place: { source, span: { start: first.keyStart, end: first.keyEnd } }, note: 'first given here' }],
  });
}
