import { parseNumber } from '../../dialect/codecs/number.ts';
import { sameValue } from '../../model/value.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import { agreedFit, foretold, fitsOf } from '../codecs/fits.ts';
import type { Fit, Point } from '../codecs/contract.ts';
import type { Value } from '../../model/value.ts';
import type { KeyRow, Series, SettingRow } from '../contract.ts';
import { nameWords } from '../names/name-words.ts';
import { wordedShare } from './worded-share.ts';
import { nameScore } from '../names/name-score.ts';
import { heldText } from '../copies/key-table.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { moves } from './noise.ts';

/** A key that behaves as a setting was changed, with the codecs that would make it so. */
export interface Claim {
  readonly row: KeyRow;
  readonly fits: readonly Fit[];
  /** Where several fit: the texts that were seen, which is all that is certain. */
  readonly agreed: Fit | undefined;
  /** Labelled changes that it followed. */
  readonly followed: number;
  /** Whether it stood still at one, which it cannot have done if the value was another before. */
  readonly stoodStill: boolean;
  /** Share of the values seen whose own words are in their texts, 0 to 1. */
  readonly worded: number;
  /** Whether chance would hardly have it so: two texts, or one of more than one figure. */
  readonly telling: boolean;
  /**
   * Whether a key that only happened to move just then would not do as well: a law, a switch written as such, a change seen
   * more than once, copies between which nothing was changed, or its name.
   */
  readonly supported: boolean;
  /** Copies foretold when held out; undefined where nothing can be. */
  readonly foretold: number | undefined;
  /** Whether a value came back after another, and its text with it: what moves by chance seldom does. */
  readonly returned: boolean;
  /** What the texts are like: `pair`: off and on, `digits`: 0 and 1, which may be choices too. */
  readonly like: 'pair' | 'digits' | 'other';
}

/** What is known of both, at each observation; undefined where they contradict each other. */
function pointsOf(
  table: KeyTable,
  setting: SettingRow,
  row: KeyRow,
): { readonly points: readonly Point[]; readonly others: readonly SyntaxValue[] } | undefined {
  const points: Point[] = [];
  const others: SyntaxValue[] = [];
  const leftOut = new Map<Series, Value>();
  for (const [at, { series }] of table.observations.entries()) {
    const held = row.held[at];
    const value = setting.known[at];
    // Every move of the key has a change to explain it.
    if (moves(table, row, at) && !setting.changed.has(at)) return undefined;
    if (held === undefined) {
      // A program may leave out what is as it comes: one value, then.
      const left = leftOut.get(series);
      if (value !== undefined && left !== undefined && !sameValue(left, value)) return undefined;
      if (value !== undefined) leftOut.set(series, value);
    } else if (value === undefined) others.push(held);
    else points.push({ value, held, series });
  }
  for (const [at, one] of points.entries())
    for (const other of points.slice(at + 1)) {
      // One value, one text, where the part's mount does not come in between; two values, two texts.
      const alike = heldText(one.held) === heldText(other.held);
      if (one.series === other.series && alike !== sameValue(one.value, other.value)) return undefined;
    }
  return { points, others };
}

/** Whether a label only says again what was known. */
function restated(table: KeyTable, { known }: SettingRow, at: number): boolean {
  const [before, now] = [known[at - 1], known[at]];
  return (
    (table.observations[at]?.copy ?? 0) === 0 || (before !== undefined && now !== undefined && sameValue(before, now))
  );
}

/** Whether a value was there, was another, and was there again within one series. */
function comesBack(points: readonly Point[]): boolean {
  return points.some((one, at) => {
    const own = points.slice(at + 1).filter(({ series }) => series === one.series);
    const other = own.findIndex(({ value }) => !sameValue(value, one.value));
    return other >= 0 && own.slice(other).some(({ value }) => sameValue(value, one.value));
  });
}

/** A pair that no program would write for on and off. */
function noSwitch(points: readonly Point[], others: readonly SyntaxValue[]): boolean {
  const texts = [...points.map(({ held }) => held), ...others].map(heldText);
  return (
    new Set(texts).size > 2 ||
    texts.some((text) => {
      const number = parseNumber(text);
      // Full and none, 100 and 0, must have been seen to come back.
      const large = number !== undefined && Math.abs(number) > 9 && !comesBack(points);
      return (number !== undefined && !Number.isInteger(number)) || large || /[/\\]|\d{4}-\d{2}/.test(text);
    })
  );
}

/** Whether two keys of one file have a word of their names in common, sections aside. */
export function isKin(a: KeyRow, b: KeyRow): boolean {
  const words = new Set(lastWords(a.key));
  return a.file === b.file && lastWords(b.key).some((word) => words.has(word));
}

function lastWords(key: string): readonly string[] {
  return nameWords(key.replace(/^.*[\]/.]\s*/, ''));
}

/** Texts that programs write for off and on, and for nothing else. */
const switchTexts = /^(true|false|yes|no|on|off|y|n|enabled?|disabled?)$/i;

/** What a key's texts are like: `pair`: off and on, `digits`: 0 and 1, which may be choices too. */
function switchKind(points: readonly Point[], others: readonly SyntaxValue[]): 'pair' | 'digits' | 'other' {
  const texts = [...points.map(({ held }) => held), ...others].map(heldText);
  if (texts.every((text) => switchTexts.test(text))) return 'pair';
  return texts.every((text) => text === '0' || text === '1') ? 'digits' : 'other';
}

/** Every key that follows a setting through all copies, noise aside. */
export function claimsOf(
  table: KeyTable,
  setting: SettingRow,
  rows: readonly KeyRow[],
  idle: ReadonlySet<number>,
): readonly Claim[] {
  const { type } = setting.setting;
  return rows.flatMap((row): readonly Claim[] => {
    const both = pointsOf(table, setting, row);
    if (both === undefined || both.points.length === 0) return [];
    const { points, others } = both;
    const moved = [...setting.changed].filter((at) => moves(table, row, at));
    const followed = moved.length;
    if (setting.setting.type.kind === 'boolean' && noSwitch(points, others)) return [];
    const like = switchKind(points, others);
    // Three words do not fit into yes and no.
    if (type.kind === 'word' && type.of.length > 2 && like === 'pair') return [];
    const fits = fitsOf(setting.setting, points, others);
    if (fits.length === 0) return [];
    const texts = new Set(points.map(({ held }) => heldText(held)));
    const telling = texts.size > 1 || [...texts].some((text) => text.length > 1);
    const supported =
      (fits[0]?.kind === 'law' && telling) ||
      like === 'pair' ||
      followed > 1 ||
      idle.size > 0 ||
      nameScore(setting.setting, row.key) >= 0.4;
    return [
      {
        row,
        fits,
        agreed: fits.length > 1 ? agreedFit(setting.setting, points) : undefined,
        like,
        supported,
        followed,
        telling,
        stoodStill: [...setting.changed].some((at) => !moves(table, row, at) && !restated(table, setting, at)),
        worded: wordedShare(points),
        returned: comesBack(points),
        foretold: foretold(setting.setting, points),
      },
    ];
  });
}
