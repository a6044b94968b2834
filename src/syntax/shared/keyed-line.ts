import type { Finding } from '../../diagnostics/finding.ts';
import { lineStop } from './physical-lines.ts';

/** A line (with those that continue it) that gives a key. Offsets are of the whole text. */
export interface KeyedLine {
  readonly kind: 'key';
  /** As the program reads it: escapes taken off. */
  readonly name: string;
  readonly start: number;
  /** Before the last line's end. */
  readonly stop: number;
  readonly keyStart: number;
  readonly keyEnd: number;
  /** Quotes included; both are `stop` where there is no value. */
  readonly valueStart: number;
  readonly valueEnd: number;
  /** False for a key that stands alone, without a separator. */
  readonly separated: boolean;
}

/** A line that begins a section. */
export interface SectionLine {
  readonly kind: 'section';
  readonly name: string;
  readonly start: number;
  readonly stop: number;
}

/** A line that the program that owns the file could not read. */
export interface BadLine {
  readonly kind: 'bad';
  readonly code: Finding['code'];
  readonly at: number;
  readonly detail: string;
  readonly wayOut: string;
}

/** `undefined`: a comment, a blank line, a heading; kept and ignored. */
export type LineRead = KeyedLine | SectionLine | BadLine | undefined;

/** How one format writes keys on lines. One object serves one text, since styles are detected from it. */
export interface KeyedGrammar {
  /** Whether keys stand in sections. */
  readonly sectioned: boolean;
  /** What stands between key and value where no neighbour shows it. */
  readonly separator: string;
  /** Whether `separator` was said by the dialect and goes before what neighbours show. */
  readonly separatorSaid: boolean;
  /** The form in which names are compared. */
  fold(name: string): string;
  /** Reads the line from `start`; `stop` is its line's end. A continued line is read to its own end. */
  read(text: string, start: number, stop: number): LineRead;
  /** Whether a line, which ends the text, would take another one after it into its value. */
  goesOn(line: string): boolean;
  valueOf(text: string, line: KeyedLine): string;
  /** The key that a comment line shows as an example, undefined when it shows none. */
  example(text: string, start: number, stop: number): string | undefined;
  spellKey(name: string): string;
  /** Spellings of a value, best first. Each is read back before it is taken, so that a wrong one does no harm. */
  spellValue(value: string, quote: string): readonly string[];
  /** The quote that a spelled value has: `'`, `"` or nothing. */
  quoteOf(spelled: string): string;
  /** Whether a line, read by this grammar, leaves what was detected from the text as it is. */
  fits(line: string): boolean;
  /** Why a value cannot be written: one sentence with what to do instead in the next. */
  whyNot(value: string): string;
}

/** Reads a line with another one after it: does it take that one in? */
export function continuesAfter(grammar: Pick<KeyedGrammar, 'read'>, line: string): boolean {
  const longer = `${line}\nx`;
  const read = grammar.read(longer, 0, lineStop(longer, 0));
  return read?.kind === 'key' && read.stop > line.length;
}
