import { createScanner } from 'jsonc-parser';

/** Kinds of token of jsonc-parser 3.3, whose const enum cannot be imported by isolated modules. */
export const token = {
  openBrace: 1,
  closeBrace: 2,
  openBracket: 3,
  closeBracket: 4,
  comma: 5,
  colon: 6,
  string: 10,
  lineComment: 12,
  blockComment: 13,
  lineBreak: 14,
  blank: 15,
  unknown: 16,
  end: 17,
} as const;

/** What jsonc-parser's scanner says is wrong with a token, by its number. */
const scanMistakes: readonly (string | undefined)[] = [
  undefined,
  'a comment is not closed',
  'a string is not closed on its line',
  'a number is incomplete',
  'a \\u escape needs four hexadecimal digits',
  'a string has an escape that JSON does not know',
  'a string holds a control character that must be escaped',
];

export interface JsonToken {
  readonly kind: number;
  readonly start: number;
  readonly end: number;
  /** A string's decoded text, another token as written. */
  readonly text: string;
  readonly mistake: string | undefined;
}

/** The tokens from `from` on, blanks and comments too; the last is `token.end`. */
export function* jsonTokens(text: string, from: number): Generator<JsonToken> {
  const scanner = createScanner(text, false);
  scanner.setPosition(from);
  for (;;) {
    const kind: number = scanner.scan();
    const start = scanner.getTokenOffset();
    const end = Math.min(start + scanner.getTokenLength(), text.length);
    yield { kind, start, end, text: scanner.getTokenValue(), mistake: scanMistakes[scanner.getTokenError()] };
    if (kind === token.end) return;
  }
}
