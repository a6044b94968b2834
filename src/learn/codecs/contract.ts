import type { Value } from '../../model/value.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { CodecsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { Series } from '../contract.ts';

/** What one copy shows: the value that the setting had, and what the key held. */
export interface Point {
  readonly value: Value;
  readonly held: SyntaxValue;
  readonly series: Series;
}

/** One way to spell a setting that gives every point its text. */
export interface Fit {
  readonly codec: CodecsWritten;
  /** `law`: it foretells texts of values not seen; `table`: it lists what was seen. */
  readonly kind: 'law' | 'table';
  /** A clause for the comment: 'a number in ms'. */
  readonly says: string;
}

/**
 * A closed set of codecs as a version space (Mitchell, 'Generalization as search', 1982): what a maker returns are the
 * hypotheses of its kind that agree with all points, none left out, simplest first.
 */
export type FitMaker = (
  setting: SettingDefinition,
  points: readonly Point[],
  others: readonly SyntaxValue[],
) => readonly Fit[];
