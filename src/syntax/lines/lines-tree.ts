import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { afterLineEnd, firstLine, lineStop, skipBlanks } from '../shared/physical-lines.ts';

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
  readonly #byText: ReadonlyMap<string, PlainLine>;
  readonly #again = new Map<string, PlainLine[]>();

  constructor(source: SourceText, style: Style, marks: readonly string[], lines: readonly PlainLine[]) {
    this.source = source;
    this.style = style;
    this.lines = lines;
    this.#marks = marks;
    const byText = new Map<string, PlainLine>();
    this.#byText = byText;
    this.repeated = lines.filter((line) => {
      if (!byText.has(line.text)) {
        byText.set(line.text, line);
        return false;
      }
      const again = this.#again.get(line.text);
      if (again === undefined) this.#again.set(line.text, [line]);
      else again.push(line);
      return true;
    });
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
    const { text } = this.source;
    const found = new Map<string, number>();
    for (let at = firstLine(text); at < text.length;) {
      const stop = lineStop(text, at);
      const start = skipBlanks(text, at, stop);
      const next = afterLineEnd(text, stop);
      const mark = this.#marks.find((one) => text.startsWith(one, start));
      if (start < stop && mark !== undefined) {
        const bare = start + mark.length;
        found.set(text.slice(bare, stop), next);
        found.set(text.slice(skipBlanks(text, bare, stop), stop), next);
      }
      at = next;
    }
    return found;
  }
}

function placeOf({ text, start, stop }: PlainLine): KeyPlace {
  return { path: text, span: { start, end: stop }, valueSpan: { start: stop, end: stop } };
}

function beginsComment(text: string, at: number, marks: readonly string[]): boolean {
  return marks.some((mark) => text.startsWith(mark, at));
}

/** Reads a text in one pass; nothing in it can be wrong. */
export function readLines(source: SourceText, style: Style): LinesTree {
  const { text } = source;
  const { comment = '#' } = style;
  const marks = (typeof comment === 'string' ? [comment] : comment).filter((mark) => mark !== '');
  const lines: PlainLine[] = [];
  for (let at = firstLine(text); at < text.length;) {
    const stop = lineStop(text, at);
    const start = skipBlanks(text, at, stop);
    const line = text.slice(at, stop);
    if (start < stop && line.trim() !== '' && !beginsComment(text, start, marks))
      lines.push({ text: line, start: at, stop });
    at = afterLineEnd(text, stop);
  }
  return new LinesTree(source, style, marks, lines);
}
