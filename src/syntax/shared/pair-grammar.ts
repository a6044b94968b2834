import type { Style } from '../contract.ts';
import { detectSeparator, separatorShown } from './detect-separator.ts';
import { continuesAfter } from './keyed-line.ts';
import type { KeyedGrammar, KeyedLine, LineRead } from './keyed-line.ts';
import { afterLineEnd, isBlank, lineStop, skipBlanks, trimBlanks } from './physical-lines.ts';

/** What tells ini from pairs. */
export interface PairKind {
  readonly sectioned: boolean;
  /** Where neither the style nor the text shows one. */
  readonly separator: string;
}

const quoteMarks: Readonly<Record<NonNullable<Style['quote']>, string>> = {
  none: '',
  single: "'",
  double: '"',
  keep: '"\'',
};

/**
 * Lines of `key separator value`, as pairs and ini files have them.
 *
 * - Blanks around key and value count for nothing; quotes keep those inside. No escapes: backslashes are themselves.
 * - A value is quoted when its first mark is a quote that is closed by the next such mark, at its end.
 * - Marks begin a comment at the start of a line; after a value only with `inlineComments`, after a blank.
 * - With `continuation`, a value whose line ends in that character goes on at the next line; the character and the
 *   line end fall away, all else stays.
 */
export class PairGrammar implements KeyedGrammar {
  readonly sectioned: boolean;
  readonly separator: string;
  readonly separatorSaid: boolean;
  readonly #core: string;
  readonly #marks: readonly string[];
  readonly #quotes: string;
  readonly #style: Style;
  readonly #text: string;
  /** The first separator of the text at or after `#searchedFrom`, so that lines without one are not searched again. */
  #separatorAt = -1;
  #searchedFrom = 0;

  constructor(text: string, style: Style, kind: PairKind) {
    this.#text = text;
    this.#style = style;
    this.sectioned = kind.sectioned;
    const comment = style.comment ?? ['#', ';'];
    this.#marks = (typeof comment === 'string' ? [comment] : comment).filter((mark) => mark !== '');
    this.#quotes = quoteMarks[style.quote ?? 'keep'];
    const said = style.separator;
    this.separatorSaid = said !== undefined && said !== '';
    if (said !== undefined && said !== '') {
      this.separator = said;
      this.#core = said.trim();
    } else {
      this.#core = detectSeparator(text, kind.sectioned, (start, stop) => this.#noKey(text, start, stop));
      this.separator = { '=': kind.separator, ':': ': ' }[this.#core] ?? ' ';
    }
  }

  fold(name: string): string {
    return this.#style.foldCase === true ? name.toLowerCase() : name;
  }

  read(text: string, start: number, stop: number): LineRead {
    const keyStart = skipBlanks(text, start, stop);
    if (keyStart === stop || this.#beginsComment(text, keyStart)) return undefined;
    if (this.sectioned && text.charCodeAt(keyStart) === 91) {
      const section = this.#readSection(text, start, keyStart, stop);
      if (section !== undefined) return section;
    } else if (isHeading(text, keyStart, stop)) return undefined;
    const limit = this.#style.inlineComments === true ? this.#inlineComment(text, keyStart, stop) : stop;
    const at = this.#core === '' ? nextBlank(text, keyStart, limit) : this.#findSeparator(text, keyStart, limit);
    if (at < 0 || (this.#core === '' && skipBlanks(text, at, limit) === limit)) {
      return this.#readAlone(text, start, keyStart, limit, stop);
    }
    const keyEnd = trimBlanks(text, keyStart, at);
    if (keyEnd === keyStart) return undefined;
    const valueStart = skipBlanks(text, at + this.#core.length, stop);
    return this.#readValue(text, start, keyStart, keyEnd, valueStart, stop);
  }

  /** As `find`; in the text itself by `indexOf`, which is linear as long as lines are read in their order. */
  #findSeparator(text: string, from: number, stop: number): number {
    if (text !== this.#text) return find(text, this.#core, from, stop);
    if (this.#separatorAt < from || this.#searchedFrom > from) {
      const at = text.indexOf(this.#core, from);
      this.#separatorAt = at < 0 ? text.length : at;
      this.#searchedFrom = from;
    }
    return this.#separatorAt + this.#core.length <= stop ? this.#separatorAt : -1;
  }

  #readAlone(text: string, start: number, keyStart: number, limit: number, stop: number): LineRead {
    const keyEnd = trimBlanks(text, keyStart, limit);
    const name = text.slice(keyStart, keyEnd);
    // Rulers and headings are no keys; nor is a lone word where keys need a separator.
    if ((!this.sectioned && this.#core !== '') || !/[\p{L}\p{N}\udc80-\udcff]/u.test(name)) return undefined;
    if (this.#core === '' && keyEnd < limit && this.#style.inlineComments !== true) {
      return {
        kind: 'key',
        name,
        start,
        stop,
        keyStart,
        keyEnd,
        valueStart: limit,
        valueEnd: limit,
        separated: true,
      };
    }
    return { kind: 'key', name, start, stop, keyStart, keyEnd, valueStart: keyEnd, valueEnd: keyEnd, separated: false };
  }

  #readValue(
    text: string,
    start: number,
    keyStart: number,
    keyEnd: number,
    valueStart: number,
    firstStop: number,
  ): LineRead {
    const name = text.slice(keyStart, keyEnd);
    const { continuation, inlineComments } = this.#style;
    let valueEnd = -1;
    let stop = firstStop;
    const mark = text.charCodeAt(valueStart);
    if ((mark === 34 || mark === 39) && valueStart < firstStop && this.#quotes.includes(text.charAt(valueStart))) {
      const close = find(text, text.charAt(valueStart), valueStart + 1, firstStop);
      if (close < 0) {
        if (this.#style.quote === 'single' || this.#style.quote === 'double') return unclosedQuote(name, valueStart);
      } else {
        const rest = skipBlanks(text, close + 1, firstStop);
        const comment = inlineComments === true && rest > close + 1 && this.#beginsComment(text, rest);
        if (rest === firstStop || comment) valueEnd = close + 1;
      }
    }
    for (let from = valueStart; valueEnd < 0;) {
      // A blank before the first mark may be the separator's own.
      const comment = inlineComments === true ? this.#inlineComment(text, Math.max(from - 1, keyEnd), stop) : stop;
      const goesOn =
        comment === stop &&
        continuation !== undefined &&
        continuation !== '' &&
        stop < text.length &&
        stop - continuation.length >= from &&
        text.startsWith(continuation, stop - continuation.length);
      if (!goesOn) valueEnd = trimBlanks(text, valueStart, Math.max(comment, valueStart));
      else {
        from = afterLineEnd(text, stop);
        stop = lineStop(text, from);
      }
    }
    return { kind: 'key', name, start, stop, keyStart, keyEnd, valueStart, valueEnd, separated: true };
  }

  #readSection(text: string, start: number, open: number, stop: number): LineRead {
    let last = -1;
    for (let k = open + 1; k < stop; k++) {
      if (text.charCodeAt(k) !== 93) continue;
      last = k;
      const rest = skipBlanks(text, k + 1, stop);
      if (rest === stop || this.#beginsComment(text, rest)) break;
    }
    if (last >= 0) return { kind: 'section', name: text.slice(open + 1, last), start, stop };
    // An indented bracket may well be a part of the value above.
    if (open > start) return undefined;
    return {
      kind: 'bad',
      code: 'section-unclosed',
      at: open,
      detail: 'The bracket that opens this section is not closed on its line.',
      wayOut: 'Close the bracket, or comment the line out.',
    };
  }

  #noKey(text: string, start: number, stop: number): boolean {
    return this.#beginsComment(text, start) || isHeading(text, start, stop);
  }

  #beginsComment(text: string, at: number): boolean {
    const code = text.charCodeAt(at);
    for (const mark of this.#marks) {
      if (mark.charCodeAt(0) === code && (mark.length === 1 || text.startsWith(mark, at))) return true;
    }
    return false;
  }

  /** Where a comment begins after a blank at or after `from`, or `stop`. */
  #inlineComment(text: string, from: number, stop: number): number {
    for (let k = from + 1; k < stop; k++) {
      if (isBlank(text.charCodeAt(k - 1)) && this.#beginsComment(text, k)) return k;
    }
    return stop;
  }

  goesOn(line: string): boolean {
    const { continuation } = this.#style;
    return continuation !== undefined && continuation !== '' && continuesAfter(this, line);
  }

  valueOf(text: string, line: KeyedLine): string {
    const spelled = text.slice(line.valueStart, line.valueEnd);
    const { continuation } = this.#style;
    return this.#unquoted(
      continuation === undefined || continuation === '' ? spelled : withoutContinuation(spelled, continuation),
    );
  }

  #unquoted(spelled: string): string {
    return this.quoteOf(spelled) === '' ? spelled : spelled.slice(1, -1);
  }

  quoteOf(spelled: string): string {
    const quote = spelled.charAt(0);
    if (spelled.length < 2 || !this.#quotes.includes(quote)) return '';
    return spelled.indexOf(quote, 1) === spelled.length - 1 ? quote : '';
  }

  example(text: string, start: number, stop: number): string | undefined {
    const first = skipBlanks(text, start, stop);
    const mark = this.#marks.find((one) => text.startsWith(one, first));
    if (mark === undefined) return undefined;
    let at = first + mark.length;
    while (at < stop && text.startsWith(mark, at)) at += mark.length;
    const keyStart = skipBlanks(text, at, stop);
    if (keyStart === stop) return undefined;
    // `# the key is` is prose; only `#key value` shows a key where blanks part the two.
    if (this.#core === '') {
      const end = nextBlank(text, keyStart, stop);
      return keyStart > at ? undefined : text.slice(keyStart, end < 0 ? stop : end);
    }
    const separator = find(text, this.#core, keyStart, stop);
    return separator < 0 ? undefined : text.slice(keyStart, trimBlanks(text, keyStart, separator));
  }

  spellKey(name: string): string {
    return name;
  }

  spellValue(value: string, quote: string): readonly string[] {
    const quotes = [quote, '', ...this.#quotes];
    return [...new Set(quotes)].map((mark) => mark + value + mark);
  }

  fits(line: string): boolean {
    if (this.separatorSaid) return true;
    const start = skipBlanks(line, 0, line.length);
    const shown = separatorShown(line, start, line.length, this.sectioned);
    return shown === undefined || shown === this.#core;
  }

  whyNot(value: string): string {
    if (/[\r\n]/.test(value)) return 'It holds a line end, and every value of this file is one line.';
    const marks = this.#quotes === '' ? 'this file has no quotes' : 'no quote that this file has keeps it whole';
    return `Its blanks, quotes, comment marks or last character would be read as something else, and ${marks}.`;
  }
}

/** In a file without sections, a line in brackets is a heading for people. */
function isHeading(text: string, start: number, stop: number): boolean {
  return text.charCodeAt(start) === 91 && text.charCodeAt(trimBlanks(text, start, stop) - 1) === 93;
}

function unclosedQuote(name: string, at: number): LineRead {
  return {
    kind: 'bad',
    code: 'quote-unclosed',
    at,
    detail: `The quote that opens the value of ${JSON.stringify(name)} is not closed on its line.`,
    wayOut: 'Close the quote, or say in the dialect that this file has none: `quote: none`.',
  };
}

function nextBlank(text: string, from: number, stop: number): number {
  for (let k = from; k < stop; k++) if (isBlank(text.charCodeAt(k))) return k;
  return -1;
}

/** `indexOf` that looks no further than `stop`: a long text without the mark would make it quadratic. */
function find(text: string, mark: string, from: number, stop: number): number {
  const first = mark.charCodeAt(0);
  for (let k = from; k + mark.length <= stop; k++) {
    if (text.charCodeAt(k) === first && (mark.length === 1 || text.startsWith(mark, k))) return k;
  }
  return -1;
}

function withoutContinuation(spelled: string, continuation: string): string {
  const parts = spelled.split(/\r\n|\n|\r/);
  if (parts.length === 1) return spelled;
  return parts.map((part, k) => (k < parts.length - 1 ? part.slice(0, -continuation.length) : part)).join('');
}
