import type { SettingRow } from '../contract.ts';
import { heldText } from '../copies/key-table.ts';
import type { Claim } from '../labels/claims.ts';
import type { Open, Settle, Settled } from './settled.ts';

/**
 * What one program does alike everywhere settles what labelled changes leave open: the key of a setting is called alike for
 * all scopes, values have their own words, and switches are written alike. Whether it settled or narrowed anything.
 */
export function settleByHabit(open: Open, settled: ReadonlyMap<SettingRow, Settled>, settle: Settle): boolean {
  return settleTwins(open, settled, settle) || settleWorded(open, settle) || narrowByPair(open, settled);
}

/** The last part of a key, which is the same for a frontend as a whole and for one system. */
function lastPart(key: string): string {
  return key.replace(/^.*[\]/.]\s*(?=[^\s])/, '');
}

/** A setting that is sure for one scope has a key of that name for the others. */
function settleTwins(open: Open, settled: ReadonlyMap<SettingRow, Settled>, settle: Settle): boolean {
  for (const [setting, claims] of open) {
    const names = new Set(
      [...settled].flatMap(([other, outcome]) =>
        other.setting.id === setting.setting.id && outcome.kind === 'sure'
          ? outcome.claims.map(({ row }) => lastPart(row.key))
          : [],
      ),
    );
    const [twin, ...others] = claims.filter(({ row }) => names.has(lastPart(row.key)));
    if (twin === undefined || others.length > 0 || claims.length < 2) continue;
    settle(setting, { kind: 'sure', claims: [twin] });
    return true;
  }
  return false;
}

/** One key alone has the words of a setting's values for texts, and words of no other setting: it is the setting's. */
function settleWorded(open: Open, settle: Settle): boolean {
  for (const [setting, claims] of open) {
    const [worded, ...others] = claims.filter((claim) => claim.worded > 0);
    if (worded === undefined || others.length > 0 || worded.worded < 0.5) continue;
    const wanted = [...open].some(
      ([other, own]) => other !== setting && own.some(({ row, worded: share }) => row === worded.row && share > 0),
    );
    if (wanted) continue;
    settle(setting, { kind: 'sure', claims: [worded] });
    return true;
  }
  return false;
}

/** Sure switches of one pair that make it the frontend's habit. */
const habit = 3;

/**
 * Where a frontend writes its switches as one pair, keys of that pair are switches and others are none, as long as rivals
 * are left on both sides (of hypotheses that explain the same, the one that needs no second convention).
 */
function narrowByPair(open: Open, settled: ReadonlyMap<SettingRow, Settled>): boolean {
  const counts = new Map<string, number>();
  for (const [{ setting }, outcome] of settled)
    if (setting.type.kind === 'boolean' && outcome.kind === 'sure')
      for (const claim of outcome.claims) counts.set(pairOf(claim), (counts.get(pairOf(claim)) ?? 0) + 1);
  const habits = new Set([...counts].flatMap(([pair, count]) => (count >= habit && pair.includes('\0') ? [pair] : [])));
  if (habits.size === 0) return false;
  let moved = false;
  for (const [{ setting }, claims] of open) {
    const usual = claims.filter((claim) => habits.has(pairOf(claim)));
    const wanted = setting.type.kind === 'boolean' ? usual : claims.filter((claim) => !usual.includes(claim));
    if (wanted.length === 0 || wanted.length === claims.length) continue;
    const rows = new Set(wanted.map(({ row }) => row));
    for (const [row, own] of open)
      if (row.setting === setting)
        open.set(
          row,
          own.filter((claim) => rows.has(claim.row)),
        );
    moved = true;
  }
  return moved;
}

/** All texts of a key, in one order. */
function pairOf({ row }: Claim): string {
  return [...new Set(row.held.flatMap((held) => (held === undefined ? [] : [heldText(held)])))].sort().join('\0');
}
