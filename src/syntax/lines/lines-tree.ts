import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { LineStops, afterLineEnd, firstLine, skipBlanks } from '../shared/physical-lines.ts';

/** One line that counts. */
export interface PlainLine {
  readonly text: string;
  readonly start: number;
  readonly stop: number;
}

/** A text that is an ordered set of lines. */
export class LinesTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly lines: readonly PlainLine[];
  readonly repeated: readonly PlainLine[];
  readonly #marks: readonly string[];
  readonly #comments: readonly PlainLine[];
  readonly #byText = new Map<string, PlainLine>();
  readonly #again = new Map<string, PlainLine[]>();

  constructor(source: SourceText, style: Style, marks: readonly string[], read: ReadLines) {
    this.source = source;
    this.style = style;
    this.lines = read.lines;
    this.#marks = marks;
    this.#comments = read.comments;
    const repeated: PlainLine[] = [];
    this.repeated = repeated;
    for (const line of read.lines) {
      if (!this.#byText.has(line.text)) {
        this.#byText.set(line.text, line);
        continue;
      }
      repeated.push(line);
      const again = this.#again.get(line.text);
      if (again === undefined) this.#again.set(line.text, [line]);
      else again.push(line);
    }
  }

  keys(): readonly KeyPlace[] {
    return [...this.#byText.values()].map(placeOf);
  }

  get(path: string): SyntaxValue | undefined {
    return this.#byText.has(path) ? { kind: 'scalar', text: 'present' } : undefined;
  }

  find(path: string): KeyPlace | undefined {
    const line = this.#byText.get(path);
    return line === undefined ? undefined : placeOf(line);
  }

  line(path: string): PlainLine | undefined {
    return this.#byText.get(path);
  }

  /** The line and its repetitions. */
  all(path: string): readonly PlainLine[] {
    const first = this.#byText.get(path);
    if (first === undefined) return [];
    return [first, ...(this.#again.get(path) ?? [])];
  }

  isComment(line: string): boolean {
    return beginsComment(line, skipBlanks(line, 0, line.length), this.#marks);
  }

  /** The offset after the last comment that holds each line, `# line` and `#line` alike. */
  examples(): ReadonlyMap<string, number> {
    const found = new Map<string, number>();
    for (const { text, stop } of this.#comments) {
      const start = skipBlanks(text, 0, text.length);
      const mark = this.#marks.find((one) => text.startsWith(one, start)) ?? '';
      const bare = start + mark.length;
      const next = afterLineEnd(this.source.text, stop);
      found.set(text.slice(bare), next);
      found.set(text.slice(skipBlanks(text, bare, text.length)), next);
    }
    return found;
  }
}

function placeOf({ text, start, stop }: PlainLine): KeyPlace {
  return { path: text, span: { start, end: stop }, valueSpan: { start: stop, end: stop } };
}

function beginsComment(text: string, at: number, marks: readonly string[]): boolean {
  const code = text.charCodeAt(at);
  for (const mark of marks) {
    if (mark.charCodeAt(0) === code && (mark.length === 1 || text.startsWith(mark, at))) return true;
  }
  return false;
}

/** What one pass over a text found: the lines that count, and the comments. */
interface ReadLines {
  readonly lines: readonly PlainLine[];
  readonly comments: readonly PlainLine[];
}

/** Reads a text in one pass; nothing in it can be wrong. */
export function readLines(source: SourceText, style: Style): LinesTree {
  const { text } = source;
  const { comment = '#' } = style;
  const marks = (typeof comment === 'string' ? [comment] : comment).filter((mark) => mark !== '');
  const lines: PlainLine[] = [];
  const comments: PlainLine[] = [];
  const stops = new LineStops(text);
  for (let at = firstLine(text); at < text.length;) {
    const stop = stops.at(at);
    const start = skipBlanks(text, at, stop);
    if (start < stop) {
      const line = { text: text.slice(at, stop), start: at, stop };
      if (beginsComment(text, start, marks)) comments.push(line);
      // Other white space than blanks is rare, and looked for only where no plain character begins the line.
      else if (isPlain(text.charCodeAt(start)) || line.text.trim() !== '') lines.push(line);
    }
    at = afterLineEnd(text, stop);
  }
  return new LinesTree(source, style, marks, { lines, comments });
}

/** Printable ASCII. */
function isPlain(code: number): boolean {
  return code > 32 && code < 127;
}
