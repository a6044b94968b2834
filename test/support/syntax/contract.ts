import type fc from 'fast-check';
import type { Style, Syntax, SyntaxValue } from '../../../src/syntax/contract.ts';

/** One text to hold to the lens laws. `text` may hold anything that bytes can (lone surrogates for bytes that are no UTF-8). */
export interface SyntaxText {
  readonly text: string;
  readonly style: Style;
}

/**
 * What the lens laws (`test/conformance/lens-laws.test.ts`) need of a syntax. To add one: write
 * `test/support/syntax/NAME.ts` that exports one of these, and put it on the list there.
 */
export interface SyntaxGenerator {
  readonly syntax: Syntax;
  /** Texts in any layout: comments, odd blanks, byte-order marks, CRLF and mixed ends, no last newline, odd bytes. */
  readonly texts: fc.Arbitrary<SyntaxText>;
  /** Paths that most texts do not have. One that a text has, or that the syntax refuses, does no harm. */
  readonly newPaths: fc.Arbitrary<string>;
  /** Values that most texts can carry. One that is refused must leave the text as it is. */
  readonly values: fc.Arbitrary<SyntaxValue>;
  /** Equality by value, as the program reads it, where it is more than equal texts. */
  readonly same?: (a: SyntaxValue, b: SyntaxValue) => boolean;
  /** Whether setting one key may change what another one holds (a list seen through its items). Default: never. */
  readonly related?: (a: string, b: string) => boolean;
  /** How many keys more there are once `path`, which the text has not, holds the value. Default: one. */
  readonly brings?: (text: SyntaxText, path: string, value: SyntaxValue) => number;
  /** Whether inserting `path` into `text` and removing it again need not give the first bytes, with the reason beside it. */
  readonly notRestored?: (text: SyntaxText, path: string) => boolean;
  /** What of a text must be there after any change, in this order: its comments. */
  readonly comments: (text: string) => readonly string[];
}
