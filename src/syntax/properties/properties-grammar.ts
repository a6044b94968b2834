import type { Style } from '../contract.ts';
import { continuesAfter } from '../shared/keyed-line.ts';
import type { KeyedGrammar, KeyedLine, LineRead } from '../shared/keyed-line.ts';
import { afterLineEnd, lineStop } from '../shared/physical-lines.ts';
import { escapeKey, escapeValue, unescapeText } from './properties-escapes.ts';

/** Space, tab and form feed, the white space of the format. */
function isWhite(code: number): boolean {
  return code === 32 || code === 9 || code === 12;
}

function skipWhite(text: string, at: number, stop: number): number {
  let k = at;
  while (k < stop && isWhite(text.charCodeAt(k))) k += 1;
  return k;
}

/** Whether `=` or `:` stands there. White space and one of them part key and value. */
function isMark(text: string, at: number, stop: number): boolean {
  return at < stop && (text.charCodeAt(at) === 61 || text.charCodeAt(at) === 58);
}

/** Whether four hexadecimal digits stand there. Lines are joined before escapes are read: the digits may go on in the next one. */
function hasDigits(text: string, at: number): boolean {
  let k = at;
  for (let left = 4; left > 0;) {
    const code = text.charCodeAt(k);
    if (code === 92 && (text.charCodeAt(k + 1) === 10 || text.charCodeAt(k + 1) === 13)) {
      k = skipWhite(text, afterLineEnd(text, k + 1), text.length);
      continue;
    }
    if (!/^[0-9A-Fa-f]$/.test(text.charAt(k))) return false;
    k += 1;
    left -= 1;
  }
  return true;
}

/**
 * The line format of `java.util.Properties.load(Reader)`: natural lines are joined to logical ones by a backslash at their
 * end, `#` and `!` begin comments, the key ends at the first unescaped `=`, `:` or white space, trailing blanks count.
 */
export class PropertiesGrammar implements KeyedGrammar {
  readonly sectioned = false;
  readonly separator: string;
  readonly separatorSaid: boolean;

  constructor(style: Style) {
    const said = style.separator;
    this.separatorSaid = said !== undefined && said !== '';
    this.separator = this.separatorSaid && said !== undefined ? said : '=';
  }

  fold(name: string): string {
    return name;
  }

  read(text: string, start: number, firstStop: number): LineRead {
    const keyStart = skipWhite(text, start, firstStop);
    if (keyStart === firstStop) return undefined;
    const mark = text.charCodeAt(keyStart);
    if (mark === 35 || mark === 33) return undefined;
    // A lone backslash: the logical line has nothing yet, and begins anew on the next one, be that blank or a comment.
    if (mark === 92 && keyStart + 1 === firstStop) return undefined;
    let keyEnd = -1;
    let valueStart = -1;
    let separated = false;
    let stop = firstStop;
    let seen = false;
    for (let k = keyStart; ; k++) {
      if (k >= stop) break;
      const code = text.charCodeAt(k);
      if (code === 92) {
        if (k + 1 === stop) {
          // The line goes on; the white space that begins the next one falls away. At the end of the text it falls away.
          if (stop === text.length) break;
          const next = afterLineEnd(text, stop);
          stop = lineStop(text, next);
          let at = skipWhite(text, next, stop);
          if (keyEnd >= 0 && valueStart < 0 && !seen && isMark(text, at, stop)) {
            seen = true;
            at = skipWhite(text, at + 1, stop);
          }
          k = at - 1;
          continue;
        }
        if (text.charCodeAt(k + 1) === 117 && !hasDigits(text, k + 2)) {
          return {
            kind: 'bad',
            code: 'escape-unreadable',
            at: k,
            detail: 'The escape \\u here lacks its four hexadecimal digits.',
            wayOut: 'Write the four digits, or double the backslash if it is meant as itself.',
          };
        }
        if (keyEnd >= 0 && valueStart < 0) valueStart = k;
        k += 1;
        continue;
      }
      if (keyEnd < 0) {
        if (code !== 61 && code !== 58 && !isWhite(code)) continue;
        keyEnd = k;
        separated = true;
        seen = false;
        let at = skipWhite(text, k, stop);
        if (isMark(text, at, stop)) {
          seen = true;
          at = skipWhite(text, at + 1, stop);
        }
        k = at - 1;
        continue;
      }
      if (valueStart < 0) {
        valueStart = k;
      }
    }
    if (keyEnd < 0) keyEnd = stop;
    if (valueStart < 0) valueStart = stop;
    const name = unescapeText(text.slice(keyStart, keyEnd));
    return { kind: 'key', name, start, stop, keyStart, keyEnd, valueStart, valueEnd: stop, separated };
  }

  goesOn(line: string): boolean {
    // A bare carriage return that goes on is one line end with the line feed after it.
    return /[\\\r]$/.test(line) && continuesAfter(this, line);
  }

  valueOf(text: string, line: KeyedLine): string {
    return unescapeText(text.slice(line.valueStart, line.valueEnd));
  }

  quoteOf(): string {
    return '';
  }

  example(text: string, start: number, stop: number): string | undefined {
    let at = skipWhite(text, start, stop);
    if (at === stop || (text[at] !== '#' && text[at] !== '!')) return undefined;
    while (at < stop && (text[at] === '#' || text[at] === '!')) at += 1;
    const line = text.slice(skipWhite(text, at, stop), stop);
    // White space alone parts key and value too, but so it does the words of prose.
    const mark = /^(?:[^\s=:\\]|\\.)+[ \t\f]*[=:]/.exec(line);
    return mark === null ? undefined : unescapeText(mark[0].slice(0, -1).replace(/[ \t\f]+$/, ''));
  }

  spellKey(name: string): string {
    return escapeKey(name);
  }

  spellValue(value: string): readonly string[] {
    return [escapeValue(value)];
  }

  fits(): boolean {
    return true;
  }

  whyNot(): string {
    return 'The file cannot spell it.';
  }
}
