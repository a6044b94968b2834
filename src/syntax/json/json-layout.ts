import { lineColumn } from '../../text/line-index.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Style } from '../contract.ts';
import type { JsonContainer, JsonNode } from './json-node.ts';

/** How a text is laid out, as found in it, else by the style, else two blanks and one member a line. */
export interface JsonLayout {
  readonly eol: string;
  /** Indent of one level. */
  readonly unit: string;
  /** Between a name and its value: `": "` or `":"`. */
  readonly colon: string;
  /** After a comma within a line: `" "` or `""`. */
  readonly gap: string;
  /** Inside the braces of an object on one line. */
  readonly pad: string;
  /** One member a line, in objects that have no neighbours to follow. */
  readonly lines: boolean;
  /** One item a line, in arrays of scalars that have no neighbours to follow. */
  readonly listLines: boolean;
}

/** The blanks and line ends from `at` on. */
export function blankAfter(text: string, at: number): string {
  let to = at;
  while (to < text.length && isBlank(text.charCodeAt(to))) to += 1;
  return text.slice(at, to);
}

const isBlank = (unit: number): boolean => unit === 0x20 || unit === 0x09 || unit === 0x0a || unit === 0x0d;

export const hasLineEnd = (blank: string): boolean => /[\r\n]/.test(blank);

/** The last line end of a blank and what follows it: where a new neighbour begins. */
export function lastLine(blank: string): string {
  return /(?:\r\n|\r|\n)[ \t]*$/.exec(blank)?.[0] ?? blank;
}

/** The blanks that begin the line of `at`. */
export function indentAt(source: SourceText, at: number): string {
  const start = at - lineColumn(source, at).column + 1;
  const blanks = /[ \t]*/y;
  blanks.lastIndex = start;
  return blanks.exec(source.text)?.[0] ?? '';
}

export function detectLayout(source: SourceText, root: JsonNode | undefined, style: Style): JsonLayout {
  const { text } = source;
  const eol = /\r\n|\n|\r/.exec(text)?.[0] ?? (style.lineEnd === 'crlf' ? '\r\n' : '\n');
  let unit: string | undefined;
  let colon: string | undefined;
  let gap: string | undefined;
  let pad: string | undefined;
  let lines: boolean | undefined;
  let listLines: boolean | undefined;

  const look = (container: JsonContainer): void => {
    const [first, second] = container.entries;
    if (first === undefined) return;
    const before = text.slice(first.blankStart, first.start);
    const ends = hasLineEnd(before);
    const scalars = container.kind === 'array' && container.entries.every(({ value }) => value.kind === 'scalar');
    if (scalars) listLines ??= ends;
    else if (ends) lines ??= true;
    if (ends && unit === undefined) {
      const outer = indentAt(source, container.start);
      const inner = lastLine(before).replace(/^[\r\n]+/, '');
      if (inner.startsWith(outer) && inner.length > outer.length) unit = inner.slice(outer.length);
    }
    if (container.kind === 'object') {
      const between = text.slice(first.nameEnd, first.value.start);
      if (/^[ \t]*:[ \t]*$/.test(between)) colon ??= between;
      if (!ends) pad ??= before;
    }
    if (second !== undefined && first.comma !== undefined) {
      const blank = text.slice(first.comma + 1, second.start);
      if (/^[ \t]*$/.test(blank)) gap ??= blank;
    }
  };
  const waiting: JsonNode[] = root === undefined ? [] : [root];
  let filled = 0;
  // In file order, and no further than needed to know the habits of the text.
  for (let node = waiting.pop(); node !== undefined && filled < 1000; node = waiting.pop()) {
    if (node.kind === 'scalar') continue;
    look(node);
    if (node.entries.length > 0) filled += 1;
    for (let k = Math.min(node.entries.length, 1000) - 1; k >= 0; k--) {
      const value = node.entries[k]?.value;
      if (value !== undefined && value.kind !== 'scalar') waiting.push(value);
    }
  }
  colon ??= ': ';
  gap ??= colon === ':' ? '' : ' ';
  return {
    eol,
    unit: style.indent ?? unit ?? '  ',
    colon,
    gap,
    pad: pad ?? '',
    lines: lines ?? filled === 0,
    listLines: listLines ?? false,
  };
}
