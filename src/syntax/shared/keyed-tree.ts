import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import type { KeyedLineStyle } from './keyed-line-style.ts';
import { readKeyedLines } from './keyed-lines.ts';
import type { KeyedLines, KeyLine } from './keyed-lines.ts';

/** How a format names keys: pairs by name alone, ini by section and name. */
export interface KeyNaming {
  readonly parted: boolean;
  /** Whether a line without a separator is a key without a value. */
  readonly bare: boolean;
  path(section: string | undefined, name: string): string;
  /** Undefined when the path is malformed. */
  read(path: string): { readonly section: string | undefined; readonly name: string } | undefined;
}

/** A text of lines with keys, indexed once. */
export class KeyedTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly settled: KeyedLineStyle;
  readonly naming: KeyNaming;
  readonly lines: KeyedLines;
  /** All lines of a key, in file order, by its folded path. */
  readonly byPath = new Map<string, KeyLine[]>();
  /** Indices of the sections that count, by folded name. */
  readonly sectionsOf = new Map<string, number[]>();

  constructor(source: SourceText, style: Style, settled: KeyedLineStyle, naming: KeyNaming) {
    this.source = source;
    this.style = style;
    this.settled = settled;
    this.naming = naming;
    this.lines = readKeyedLines(source.text, settled, naming.parted, naming.bare);
    this.lines.sections.forEach(({ name }, index) => {
      const folded = settled.fold(name ?? '\n');
      const known = this.sectionsOf.get(folded);
      if (known === undefined) this.sectionsOf.set(folded, [index]);
      else if (settled.sections === 'merge') known.push(index);
      else if (settled.sections === 'last') known[0] = index;
    });
    const counting = new Set([...this.sectionsOf.values()].flat());
    for (const line of this.lines.keys) {
      if (!counting.has(line.section)) continue;
      const path = this.foldedPath(this.lines.sections[line.section]?.name, line.name);
      const known = this.byPath.get(path);
      if (known === undefined) this.byPath.set(path, [line]);
      else known.push(line);
    }
  }

  foldedPath(section: string | undefined, name: string): string {
    return `${section === undefined ? '' : `[${this.settled.fold(section)}]`}\n${this.settled.fold(name)}`;
  }

  /** All lines of the key, the one that counts told by `effective`. */
  linesAt(path: string): readonly KeyLine[] {
    const read = this.naming.read(path);
    return read === undefined ? [] : (this.byPath.get(this.foldedPath(read.section, read.name)) ?? []);
  }

  effective(lines: readonly KeyLine[]): KeyLine | undefined {
    return this.settled.duplicates === 'first' ? lines[0] : lines.at(-1);
  }

  keys(): readonly KeyPlace[] {
    const places: KeyPlace[] = [];
    for (const lines of this.byPath.values()) {
      const line = this.effective(lines);
      if (line !== undefined) places.push(this.placeOf(line));
    }
    return places.sort((a, b) => a.span.start - b.span.start);
  }

  private placeOf(line: KeyLine): KeyPlace {
    return { path: this.naming.path(this.lines.sections[line.section]?.name, line.name), span: line.span, valueSpan: line.valueSpan };
  }

  find(path: string): KeyPlace | undefined {
    const line = this.effective(this.linesAt(path));
    return line === undefined ? undefined : this.placeOf(line);
  }

  get(path: string): SyntaxValue | undefined {
    const line = this.effective(this.linesAt(path));
    return line === undefined ? undefined : readValue(line.value, this.settled.list);
  }
}

/** A value that holds the list separator is a list, where the style has one. */
export function readValue(text: string, separator: string | undefined): SyntaxValue {
  if (separator === undefined || separator === '' || !text.includes(separator)) return { kind: 'scalar', text };
  return { kind: 'list', items: text.split(separator).map((item) => ({ text: item })) };
}
