import type { SyntaxValue } from '../../syntax/contract.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { Fit, FitMaker, Point } from './contract.ts';
import { fitList } from './fit-list.ts';
import { fitNumber } from './fit-number.ts';
import { fitPath } from './fit-path.ts';
import { fitText } from './fit-text.ts';
import { fitValues } from './fit-values.ts';

/** Laws before tables: a law foretells, a table only remembers. Controls have a search of their own. */
const makers: readonly FitMaker[] = Object.freeze([fitNumber, fitText, fitPath, fitList, fitValues]);

/** Every codec of the closed set that gives all points their texts, simplest first. `others`: texts of unknown values. */
export function fitsOf(
  setting: SettingDefinition,
  points: readonly Point[],
  others: readonly SyntaxValue[],
): readonly Fit[] {
  const found = makers.flatMap((maker) => maker(setting, points, others));
  const laws = found.filter(({ kind }) => kind === 'law');
  return laws.length > 0 ? laws : found;
}

/**
 * Where several laws are left, what all of them say alike: the texts that were seen. A version space that has not come down
 * to one hypothesis still answers where its hypotheses agree (Mitchell 1982, section 4).
 */
export function agreedFit(setting: SettingDefinition, points: readonly Point[]): Fit | undefined {
  return fitValues(setting, points, [])[0];
}

/**
 * How many of the copies a law foretells that is made without them: each held out in turn (leave-one-out). Undefined where
 * too little is left to make one.
 */
export function foretold(setting: SettingDefinition, points: readonly Point[]): number | undefined {
  const whole = JSON.stringify(fitsOf(setting, points, []).map(({ codec }) => codec));
  const distinct = new Set(points.map(({ value }) => JSON.stringify(value)));
  if (distinct.size < 2) return undefined;
  return points.filter((point) => {
    const rest = points.filter((other) => other !== point);
    return JSON.stringify(fitsOf(setting, rest, []).map(({ codec }) => codec)) === whole;
  }).length;
}
