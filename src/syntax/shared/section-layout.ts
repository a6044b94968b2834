import type { SectionLine } from './keyed-line.ts';
import type { KeyedTree } from './keyed-tree.ts';
import { afterLineEnd, firstLine, skipBlanks } from './physical-lines.ts';

/** Where the line before the one that starts at `start` starts; undefined for the first line. */
export function previousLine(text: string, start: number): { start: number; stop: number } | undefined {
  if (start <= firstLine(text)) return undefined;
  let stop = start - 1;
  if (text.charCodeAt(stop) === 10 && text.charCodeAt(stop - 1) === 13) stop -= 1;
  let from = stop;
  while (from > firstLine(text) && text.charCodeAt(from - 1) !== 10 && text.charCodeAt(from - 1) !== 13) from -= 1;
  return { start: from, stop };
}

/**
 * Whether sections are parted by blank lines, as the last of the text's first `left` headers shows. The first shows nothing: it
 * may follow no section. Yes where none shows it.
 */
export function partsSections(tree: KeyedTree, left: number): boolean {
  const shows = left > 1 ? tree.headers[left - 1] : undefined;
  return shows === undefined || blankAbove(tree, shows.start);
}

/** Whether a blank line stands above a line; comments right above it belong to it. */
export function blankAbove(tree: KeyedTree, start: number): boolean {
  const { text } = tree.source;
  let above = previousLine(text, start);
  while (above !== undefined && tree.grammar.read(text, above.start, above.stop) === undefined) {
    if (skipBlanks(text, above.start, above.stop) === above.stop) return true;
    above = previousLine(text, above.start);
  }
  return false;
}

/**
 * Where a header that we would have added at the end of the text starts, with the blank line that we would have put above it;
 * undefined when it does not look like one of ours. `left` is how many of the text's headers stay: this one and all after it go.
 */
export function ownHeaderStart(tree: KeyedTree, header: SectionLine, left: number): number | undefined {
  const { text } = tree.source;
  if (text.slice(header.start, header.stop) !== `[${header.name}]`) return undefined;
  if (header.start === firstLine(text)) return header.start;
  if (!partsSections(tree, left)) return header.start;
  const above = previousLine(text, header.start);
  return above !== undefined && above.start === above.stop ? above.start : undefined;
}

/** Where what a header holds starts. */
export function bodyStart(text: string, header: SectionLine): number {
  return afterLineEnd(text, header.stop);
}
