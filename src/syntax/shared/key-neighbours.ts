import type { KeyedLine } from './keyed-line.ts';
import type { KeyGroup, KeyedTree } from './keyed-tree.ts';

/** How the keys around a new one are written. */
export interface Manner {
  readonly indent: string;
  /** What stands between a key of this length and its value. */
  separatorAfter(keyLength: number): string;
  /** The quote for a value such as this: numbers are often bare where texts are quoted. */
  quoteFor(value: string): string;
}

/** How many of a section's last keys are looked at. */
const looked = 40;
const plain = /^(?:[-+]?[0-9]+(?:\.[0-9]+)?|true|false|yes|no|on|off)$/i;

/** Learns from the last keys of a group, else of the file, how a new key is written. Each group is looked at once. */
export class KeyNeighbours {
  readonly #tree: KeyedTree;
  readonly #known = new Map<KeyGroup | undefined, Manner>();
  #fileWide: readonly KeyedLine[] | undefined;

  constructor(tree: KeyedTree) {
    this.#tree = tree;
  }

  of(group: KeyGroup | undefined): Manner {
    let manner = this.#known.get(group);
    if (manner === undefined) this.#known.set(group, (manner = this.#look(group)));
    return manner;
  }

  #look(group: KeyGroup | undefined): Manner {
    const { grammar, source, style } = this.#tree;
    const { text } = source;
    let lines = speaking(group?.lines ?? []);
    if (lines.length === 0) lines = this.#fileWide ??= speaking(lastKeys(this.#tree, looked * 4));
    const last = lines.at(-1);
    const quotes = new Map<boolean, string>();
    for (const line of lines) {
      quotes.set(plain.test(grammar.valueOf(text, line)), grammar.quoteOf(text.slice(line.valueStart, line.valueEnd)));
    }
    const fixed = style.quote === 'single' ? "'" : style.quote === 'double' ? '"' : undefined;
    const indent = last === undefined ? '' : text.slice(last.start, last.keyStart);
    // One that goes on in the next line belongs to that value alone.
    const shown = lines.map((line) => text.slice(line.keyEnd, line.valueStart)).findLast((gap) => !/[\r\n]/.test(gap));
    const column = alignedAt(text, lines);
    return {
      indent,
      separatorAfter(keyLength) {
        if (grammar.separatorSaid || shown === undefined) return grammar.separator;
        if (column === undefined) return shown;
        const core = shown.trim();
        const left = core === '' ? '' : shown.slice(0, shown.indexOf(core));
        const right = core === '' ? shown : shown.slice(shown.indexOf(core) + core.length);
        const padLeft = column.before && core !== '';
        const missing = column.value - indent.length - keyLength - core.length - (padLeft ? right : left).length;
        const pad = ' '.repeat(Math.max(missing, (padLeft ? left : right) === '' && core !== '' ? 0 : 1));
        return padLeft ? pad + core + right : left + core + pad;
      },
      quoteFor: (value) => fixed ?? quotes.get(plain.test(value)) ?? quotes.get(!plain.test(value)) ?? '',
    };
  }
}

/** The last keys of the file, in file order. */
function lastKeys({ order }: KeyedTree, most: number): readonly KeyedLine[] {
  const found: KeyedLine[] = [];
  for (let k = order.length - 1; k >= 0 && found.length < most; k--) {
    const line = order[k];
    if (line?.kind === 'key') found.push(line);
  }
  return found.reverse();
}

/** The last keys that have a value, in file order. */
function speaking(lines: readonly KeyedLine[]): readonly KeyedLine[] {
  const found: KeyedLine[] = [];
  for (let k = lines.length - 1; k >= 0 && found.length < looked; k--) {
    const line = lines[k];
    if (line !== undefined && line.separated && line.valueEnd > line.valueStart) found.push(line);
  }
  return found.reverse();
}

/** The column at which values stand, when keys of several lengths all keep to it; and whether blanks fill before the mark. */
function alignedAt(text: string, lines: readonly KeyedLine[]): { value: number; before: boolean } | undefined {
  const [first] = lines;
  if (first === undefined || lines.length < 2) return undefined;
  const value = first.valueStart - first.start;
  if (lines.some((line) => line.valueStart - line.start !== value)) return undefined;
  if (lines.every((line) => line.keyEnd - line.start === first.keyEnd - first.start)) return undefined;
  const gaps = lines.map((line) => text.slice(line.keyEnd, line.valueStart));
  if (gaps.some((gap) => gap.includes('\t'))) return undefined;
  const marks = lines.map(
    (line, k) => line.keyEnd - line.start + ((gaps[k] ?? '').length - (gaps[k] ?? '').trimStart().length),
  );
  return { value, before: marks.every((mark) => mark === marks[0]) };
}
