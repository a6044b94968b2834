import type { KeyRow, SettingRow } from '../contract.ts';
import { isKin } from '../labels/claims.ts';
import type { Claim } from '../labels/claims.ts';
import { rowName } from '../labels/setting-rows.ts';
import { nameScore } from '../names/name-score.ts';
import { isWrite, withFurtherWrites } from './further-writes.ts';
import { settleByHabit } from './settle-by-habit.ts';
import type { Open, Settle, Settled } from './settled.ts';

/**
 * Gives keys to settings. A key that only one setting claims, of a setting that claims no other, is sure; it is then no
 * rival to others, so that these may become sure in turn (unit propagation). What one program does alike everywhere settles
 * more: the key of a setting is called alike for all scopes, and its switches are written alike. What is left is told apart
 * by names. At last, keys that followed a setting there and back again, and that nothing else explains, are further writes.
 */
export function settleClaims(all: ReadonlyMap<SettingRow, readonly Claim[]>): ReadonlyMap<SettingRow, Settled> {
  const settled = new Map<SettingRow, Settled>();
  const open = new Map(
    [...withoutTables(all)].map(([setting, claims]) => [setting, primary(setting, claims)] as const),
  );
  const taken = new Set<KeyRow>();
  const settle = (setting: SettingRow, outcome: Settled): void => {
    settled.set(setting, outcome);
    for (const { row } of outcome.kind === 'none' ? [] : outcome.claims) taken.add(row);
    open.delete(setting);
    for (const [other, claims] of open)
      open.set(
        other,
        claims.filter(({ row }) => !taken.has(row)),
      );
  };
  for (let moved = true; moved;) {
    moved = settleAlone(open, settle) || settleByHabit(open, settled, settle);
  }
  for (const [setting, claims] of [...open]) settled.set(setting, byNames(setting, claims, open));
  return withFurtherWrites(all, settled);
}

/** Settings whose keys nobody else claims, or that need the only key that they have. */
function settleAlone(open: Open, settle: Settle): boolean {
  let moved = false;
  const claimants = new Map<KeyRow, Set<SettingRow>>();
  for (const [setting, claims] of open)
    for (const { row } of claims) claimants.set(row, (claimants.get(row) ?? new Set()).add(setting));
  for (const setting of [...open.keys()]) {
    const free = open.get(setting) ?? [];
    const own = free.filter(({ row }) => claimants.get(row)?.size === 1);
    const [only] = free;
    // It has no other key, and no other setting needs this one.
    const needed =
      free.length === 1 &&
      only !== undefined &&
      [...open].every(([other, claims]) => other === setting || claims.length > 1 || claims[0]?.row !== only.row);
    if (free.length === 0 || (own.length < free.length && !needed)) continue;
    const outcome = alone(setting, free) ?? byNames(setting, free, new Map([[setting, free]]));
    // What is not decided so may be by what the program does elsewhere.
    if (outcome.kind === 'none' && free.length > 1) continue;
    settle(setting, outcome);
    moved = true;
  }
  return moved;
}

/**
 * The claims that count first: of a switch, keys that are written as switches are, and their kin; laws that foretell before
 * tables that only remember.
 */
function primary({ setting }: SettingRow, claims: readonly Claim[]): readonly Claim[] {
  const written = setting.type.kind === 'boolean' ? claims.filter(({ like }) => like !== 'other') : [];
  const first =
    written.length === 0
      ? claims
      : claims.filter((claim) => written.includes(claim) || written.some(({ row }) => isKin(row, claim.row)));
  const following = first.filter(({ stoodStill }) => !stoodStill);
  return strongest(following.length === 0 ? first : following);
}

/** Laws that foretell are no rivals of tables that only remember: where there is one, tables fall out. */
function strongest(claims: readonly Claim[]): readonly Claim[] {
  const laws = claims.filter(({ fits }) => fits[0]?.kind === 'law');
  return laws.length > 0 ? laws : claims;
}

/**
 * A key whose texts a law gives for one setting is no table of another: that a number is the very one that was labelled, in
 * every copy, is no chance, while a table fits whatever moves at the same times.
 */
function withoutTables(all: ReadonlyMap<SettingRow, readonly Claim[]>): ReadonlyMap<SettingRow, readonly Claim[]> {
  const lawful = new Set<KeyRow>();
  for (const claims of all.values())
    for (const { row, fits, telling } of claims) if (fits[0]?.kind === 'law' && telling) lawful.add(row);
  return new Map(
    [...all].map(([setting, claims]) => [
      setting,
      claims.filter(({ row, fits }) => fits[0]?.kind === 'law' || !lawful.has(row)),
    ]),
  );
}

/** One key; or several that followed every change there and back, which is what several writes do. */
function alone(row: SettingRow, claims: readonly Claim[]): Settled | undefined {
  const [first] = claims;
  if (first === undefined) return { kind: 'none', why: 'no key followed it', claims: [] };
  if (claims.length === 1)
    return first.supported
      ? { kind: 'sure', claims }
      : { kind: 'likely', claims, rivals: ['it moved once, and no two copies show that it stands still otherwise'] };
  const kin = claims.every((claim) => isKin(first.row, claim.row));
  if (kin && claims.every(({ followed }) => followed > 1)) return { kind: 'sure', claims };
  if (claims.every((claim) => isWrite(row, claim))) return { kind: 'sure', claims };
  // Names that each say the setting, where nothing says otherwise.
  if (claims.every((claim) => nameScore(row.setting, claim.row.key) >= 0.75)) return { kind: 'sure', claims };
  return undefined;
}

function byNames(
  setting: SettingRow,
  claims: readonly Claim[],
  open: ReadonlyMap<SettingRow, readonly Claim[]>,
): Settled {
  if (claims.length === 0) return { kind: 'none', why: 'no key followed every change of it', claims };
  const scored = claims
    .map((claim) => ({ claim, score: nameScore(setting.setting, claim.row.key) }))
    .sort((a, b) => b.score - a.score);
  const [first, second] = scored;
  const others = [...open].flatMap(([other, own]) =>
    other !== setting && own.some(({ row }) => row === first?.claim.row) ? [rowName(other)] : [],
  );
  const keys = scored.slice(1).map(({ claim }) => claim.row.key);
  if (first === undefined || first.score < 0.4 || (second !== undefined && second.score >= first.score))
    return {
      kind: 'none',
      why: `${[...keys, ...others].length + 1} keys and settings changed alike`,
      claims: scored.map(({ claim }) => claim),
    };
  const strangers =
    first.score >= 0.75 &&
    scored.slice(1).every(({ score }) => score <= 0.35) &&
    [...open].every(
      ([other, own]) =>
        other === setting ||
        !own.some(({ row }) => row === first.claim.row) ||
        nameScore(other.setting, first.claim.row.key) <= 0.35,
    );
  // Its name says this setting and no rival; the rivals' names do not.
  if (strangers) return { kind: 'sure', claims: [first.claim] };
  return {
    kind: 'likely',
    claims: [first.claim],
    rivals: [...keys, ...others.map((name) => `the key may be of ${name}`)],
  };
}
