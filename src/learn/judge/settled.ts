import type { SettingRow } from '../contract.ts';
import type { Claim } from '../labels/claims.ts';

/** What becomes of one setting's claims. */
export type Settled =
  | { readonly kind: 'sure'; readonly claims: readonly Claim[] }
  /** Settled by names alone: `rivals` explain the same. */
  | { readonly kind: 'likely'; readonly claims: readonly Claim[]; readonly rivals: readonly string[] }
  /** Told by nothing: each of the claims may be it. */
  | { readonly kind: 'none'; readonly why: string; readonly claims: readonly Claim[] };

/** Settings that are not settled, with the claims that are left to them. */
export type Open = Map<SettingRow, readonly Claim[]>;

/** Settles one: what it takes is taken from the others. */
export type Settle = (setting: SettingRow, outcome: Settled) => void;
