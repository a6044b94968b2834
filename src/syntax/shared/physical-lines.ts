/** Where the line that holds `at` stops: the offset of its line end (LF, CRLF or a lone CR), or of the text's end. */
export function lineStop(text: string, at: number): number {
  for (let k = at; k < text.length; k++) {
    const code = text.charCodeAt(k);
    if (code === 10 || code === 13) return k;
  }
  return text.length;
}

/**
 * Finds the stops of a text's lines, asked for in ascending order: `lineStop` without looking at each character, and
 * linear also where a text has no line end of one of the two kinds.
 */
export class LineStops {
  readonly #text: string;
  #feed = -1;
  #carriage = -1;

  constructor(text: string) {
    this.#text = text;
  }

  /** As `lineStop`; `at` is never less than before. */
  at(at: number): number {
    if (this.#feed < at) this.#feed = next(this.#text, '\n', at);
    if (this.#carriage < at) this.#carriage = next(this.#text, '\r', at);
    return this.#feed < this.#carriage ? this.#feed : this.#carriage;
  }
}

function next(text: string, mark: string, at: number): number {
  const found = text.indexOf(mark, at);
  return found < 0 ? text.length : found;
}

/** The offset after the line end at `stop`. */
export function afterLineEnd(text: string, stop: number): number {
  if (stop >= text.length) return text.length;
  return text.charCodeAt(stop) === 13 && text.charCodeAt(stop + 1) === 10 ? stop + 2 : stop + 1;
}

/** Where the first line starts: a byte-order mark belongs to no line. */
export function firstLine(text: string): number {
  return text.charCodeAt(0) === 0xfeff ? 1 : 0;
}

/** The first offset from `at` on that holds no blank (space or tab), at most `stop`. */
export function skipBlanks(text: string, at: number, stop: number): number {
  let k = at;
  while (k < stop && isBlank(text.charCodeAt(k))) k += 1;
  return k;
}

/** The offset after the last character before `stop` that is no blank, at least `from`. */
export function trimBlanks(text: string, from: number, stop: number): number {
  let k = stop;
  while (k > from && isBlank(text.charCodeAt(k - 1))) k -= 1;
  return k;
}

/** Space and tab: the blanks that line-based formats agree on. */
export function isBlank(code: number): boolean {
  return code === 32 || code === 9;
}
