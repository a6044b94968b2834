import type { Span } from '../../text/span.ts';
import { sortEdits } from '../../text/text-edit.ts';
import type { TextEdit } from '../../text/text-edit.ts';

/** The offset just after the line end that closes the line holding `at` (or the end of the text). */
export function lineEndAfter(text: string, at: number): number {
  for (let k = at; k < text.length; k++) {
    if (text[k] === '\n') return k + 1;
    if (text[k] === '\r') return text[k + 1] === '\n' ? k + 2 : k + 1;
  }
  return text.length;
}

/** The offset at which the line holding `at` starts. A byte-order mark belongs to no line. */
export function lineStartBefore(text: string, at: number): number {
  let k = at;
  while (k > 0 && text[k - 1] !== '\n' && text[k - 1] !== '\r') k -= 1;
  return k === 0 && text.startsWith('\ufeff') && at > 0 ? 1 : k;
}

const endsLine = (text: string, at: number): boolean => at > 0 && (text[at - 1] === '\n' || text[at - 1] === '\r');

/** The line end in use around an offset: that of the line before it, else the first of the text, else the fallback. */
export function lineEndNear(text: string, at: number, fallback: string): string {
  if (endsLine(text, at)) return text[at - 1] === '\r' ? '\r' : text[at - 2] === '\r' ? '\r\n' : '\n';
  const first = /\r\n|\n|\r/.exec(text);
  return first === null ? fallback : first[0];
}

/**
 * Edits of a text where whole lines come and go. It keeps a missing last newline missing, writes the line ends
 * of the neighbours, and joins cuts that touch, so that its edits are always sorted and disjoint.
 */
export class LinePlan {
  readonly #text: string;
  readonly #fallback: string;
  readonly #cuts: Span[] = [];
  readonly #inserts = new Map<number, string[]>();
  readonly #edits: TextEdit[] = [];

  constructor(text: string, lineEnd: 'lf' | 'crlf' | undefined) {
    this.#text = text;
    this.#fallback = lineEnd === 'crlf' ? '\r\n' : '\n';
  }

  /** Removes whole lines: `start` is a line's start, `end` the offset after a line's end (or the text's end). */
  cut(lines: Span): void {
    this.#cuts.push(lines);
  }

  /** Adds lines (without their ends; they may hold `\n` inside) at a line's start or at the end of the text. */
  insert(at: number, lines: readonly string[]): void {
    const known = this.#inserts.get(at);
    if (known === undefined) this.#inserts.set(at, [...lines]);
    else known.push(...lines);
  }

  /** An edit inside a line. It must not touch a cut. */
  replace(edit: TextEdit): void {
    this.#edits.push(edit);
  }

  finish(): readonly TextEdit[] {
    const text = this.#text;
    const edits = [...this.#edits];
    const openEnd = text.length > 0 && !endsLine(text, text.length) && text !== '\ufeff';
    let endCut: number | undefined;
    if (openEnd) this.#moveToEnd();
    for (const { start, end } of this.#joinedCuts()) {
      if (end === text.length && openEnd) {
        endCut = start;
        if (this.#inserts.has(text.length)) {
          edits.push({ span: { start, end }, text: '' });
          continue;
        }
        // The last line goes and had no line end: the one before it must end the text as bare.
        const back = text[start - 1] === '\n' && text[start - 2] === '\r' ? 2 : endsLine(text, start) ? 1 : 0;
        edits.push({ span: { start: start - back, end }, text: '' });
      } else edits.push({ span: { start, end }, text: '' });
    }
    for (const [at, lines] of this.#inserts) {
      const eol = lineEndNear(text, at, this.#fallback);
      const block = lines.map((line) => line.replaceAll('\n', eol)).join(eol);
      const atOpenEnd = at === text.length && openEnd;
      const added = !atOpenEnd ? block + eol : endCut === undefined ? eol + block : block;
      edits.push({ span: { start: at, end: at }, text: added });
    }
    return sortEdits(edits);
  }

  /** Lines that go in just before the last ones, which are cut, go to the end: the text then still ends as bare. */
  #moveToEnd(): void {
    const end = this.#text.length;
    const moved: (readonly string[])[] = [];
    let from = end;
    for (const cut of [...this.#cuts].sort((a, b) => b.start - a.start)) {
      if (cut.end < from) break;
      from = Math.min(from, cut.start);
      const lines = this.#inserts.get(cut.start);
      if (lines === undefined) continue;
      moved.unshift(lines);
      this.#inserts.delete(cut.start);
    }
    if (moved.length > 0) this.#inserts.set(end, [...moved.flat(), ...(this.#inserts.get(end) ?? [])]);
  }

  #joinedCuts(): readonly Span[] {
    const joined: Span[] = [];
    for (const cut of [...this.#cuts].sort((a, b) => a.start - b.start)) {
      const last = joined.at(-1);
      // An insertion between two cuts keeps them apart.
      if (last !== undefined && (cut.start < last.end || (cut.start === last.end && !this.#inserts.has(cut.start)))) {
        joined[joined.length - 1] = { start: last.start, end: Math.max(last.end, cut.end) };
      } else joined.push(cut);
    }
    return joined;
  }
}
