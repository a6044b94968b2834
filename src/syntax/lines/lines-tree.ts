import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { LineStops, afterLineEnd, firstLine, skipBlanks } from '../shared/physical-lines.ts';

/** One line that counts. */
export interface PlainLine {
  readonly text: string;
  /** What names it: the whole text, or what stands before the style's separator. */
  readonly key: string;
  readonly start: number;
  readonly stop: number;
}

/** A text that is an ordered set of lines; with a separator, of lines that their first part names. */
export class LinesTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly lines: readonly PlainLine[];
  readonly repeated: readonly PlainLine[];
  /** What ends the part that names a line; undefined: the whole line does. */
  readonly separator: string | undefined;
  readonly #marks: readonly string[];
  readonly #comments: readonly PlainLine[];
  readonly #byText = new Map<string, PlainLine>();
  readonly #again = new Map<string, PlainLine[]>();

  constructor(source: SourceText, style: Style, marks: readonly string[], read: ReadLines) {
    this.source = source;
    this.style = style;
    this.lines = read.lines;
    this.separator = separatorOf(style);
    this.#marks = marks;
    this.#comments = read.comments;
    const repeated: PlainLine[] = [];
    this.repeated = repeated;
    for (const line of read.lines) {
      if (!this.#byText.has(line.key)) {
        this.#byText.set(line.key, line);
        continue;
      }
      repeated.push(line);
      const again = this.#again.get(line.key);
      if (again === undefined) this.#again.set(line.key, [line]);
      else again.push(line);
    }
  }

  keys(): readonly KeyPlace[] {
    return [...this.#byText.keys()].flatMap((path) => this.find(path) ?? []);
  }

  get(path: string): SyntaxValue | undefined {
    const line = this.line(path);
    if (line === undefined) return undefined;
    return { kind: 'scalar', text: this.separator === undefined ? 'present' : this.valueOf(line) };
  }

  find(path: string): KeyPlace | undefined {
    const line = this.line(path);
    return line === undefined ? undefined : this.#placeOf(line);
  }

  /** The line that counts. With a separator repetitions may differ: the last counts, or with `duplicates: first` the first. */
  line(path: string): PlainLine | undefined {
    const lastCounts = this.separator !== undefined && this.style.duplicates !== 'first';
    return (lastCounts ? this.#again.get(path)?.at(-1) : undefined) ?? this.#byText.get(path);
  }

  /** What stands behind the separator. */
  valueOf(line: PlainLine): string {
    return line.text.slice(line.key.length + (this.separator?.length ?? 0));
  }

  #placeOf(line: PlainLine): KeyPlace {
    const { key, start, stop } = line;
    return { path: key, span: { start, end: stop }, valueSpan: { start: stop - this.valueOf(line).length, end: stop } };
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

function separatorOf({ separator }: Style): string | undefined {
  return separator === '' ? undefined : separator;
}

/** What names a line. One without the separator is named by the whole of it. */
function keyOf(text: string, separator: string | undefined): string {
  const at = separator === undefined ? -1 : text.indexOf(separator);
  return at < 0 ? text : text.slice(0, at);
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
  const separator = separatorOf(style);
  const lines: PlainLine[] = [];
  const comments: PlainLine[] = [];
  const stops = new LineStops(text);
  for (let at = firstLine(text); at < text.length;) {
    const stop = stops.at(at);
    const start = skipBlanks(text, at, stop);
    if (start < stop) {
      const own = text.slice(at, stop);
      const line = { text: own, key: keyOf(own, separator), start: at, stop };
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
