import type { KeyRow, SettingRow } from '../contract.ts';
import { isKin } from '../labels/claims.ts';
import type { Claim } from '../labels/claims.ts';
import { rowName } from '../labels/setting-rows.ts';
import { nameScore } from '../names/name-score.ts';

/** What becomes of one setting's claims. */
export type Settled =
  | { readonly kind: 'sure'; readonly claims: readonly Claim[] }
  /** Settled by names alone: `rivals` explain the same. */
  | { readonly kind: 'likely'; readonly claims: readonly Claim[]; readonly rivals: readonly string[] }
  /** Told by nothing: each of the claims may be it. */
  | { readonly kind: 'none'; readonly why: string; readonly claims: readonly Claim[] };

/**
 * Gives keys to settings. A key that only one setting claims, of a setting that claims no other, is sure; it is then no
 * rival to others, so that these may become sure in turn (unit propagation). What is left is told apart by names, and no
 * more than likely.
 */
export function settleClaims(all: ReadonlyMap<SettingRow, readonly Claim[]>): ReadonlyMap<SettingRow, Settled> {
  const settled = new Map<SettingRow, Settled>();
  const open = new Map([...withoutTables(all)].map(([setting, claims]) => [setting, strongest(claims)] as const));
  const taken = new Map<KeyRow, SettingRow>();
  let moved = true;
  while (moved) {
    moved = false;
    const claimants = new Map<KeyRow, Set<SettingRow>>();
    for (const [setting, claims] of open)
      for (const { row } of claims) claimants.set(row, (claimants.get(row) ?? new Set()).add(setting));
    for (const [setting, claims] of open) {
      const free = claims.filter(({ row }) => !taken.has(row));
      const own = free.filter(({ row }) => claimants.get(row)?.size === 1);
      const [only] = free;
      // It has no other key, and no other setting needs this one.
      const needed =
        free.length === 1 &&
        only !== undefined &&
        [...open].every(([other, all]) => other === setting || all.length > 1 || all[0]?.row !== only.row);
      if (free.length > 0 && (own.length === free.length || needed)) {
        const outcome = alone(free) ?? byNames(setting, free, new Map([[setting, free]]));
        settled.set(setting, outcome);
        for (const { row } of outcome.kind === 'none' ? [] : outcome.claims) taken.set(row, setting);
        open.delete(setting);
        moved = true;
      }
    }
    for (const [setting, claims] of open)
      open.set(
        setting,
        claims.filter(({ row }) => !taken.has(row)),
      );
  }
  for (const [setting, claims] of open) settled.set(setting, byNames(setting, claims, open));
  return settled;
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

/** One key; or several of one name's kin that followed every change there and back, which is what several writes do. */
function alone(claims: readonly Claim[]): Settled | undefined {
  const [first] = claims;
  if (first === undefined) return { kind: 'none', why: 'no key followed it', claims: [] };
  if (claims.length === 1)
    return first.supported
      ? { kind: 'sure', claims }
      : { kind: 'likely', claims, rivals: ['it moved once, and no two copies show that it stands still otherwise'] };
  const kin = claims.every(({ row }) => isKin(first.row, row));
  if (kin && claims.every(({ followed }) => followed > 1)) return { kind: 'sure', claims };
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
