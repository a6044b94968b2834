import type { KeyRow, SettingRow } from '../contract.ts';
import { heldText } from '../copies/key-table.ts';
import type { Claim } from '../labels/claims.ts';
import { nameScore } from '../names/name-score.ts';
import type { Settled } from './settled.ts';

/** Changes that a key must follow, there and back, so that it is no chance: by what its name and its texts are like. */
const least = { named: 2, short: 3, other: 5 } as const;

/**
 * Whether a key may be one of several that a setting is written to. A title of a game that was played last comes and goes
 * as well: words that say nothing need more changes than switches and small numbers.
 */
export function isWrite({ setting, changed }: SettingRow, { row, like, followed, returned }: Claim): boolean {
  const short = like !== 'other' || row.held.every((held) => held === undefined || /^-?\d$/.test(heldText(held)));
  const wanted = nameScore(setting, row.key) >= 0.4 ? least.named : short ? least.short : least.other;
  return returned && followed >= wanted && followed === changed.size;
}

/**
 * Keys that followed every change of a settled setting, with one text for each value, are written with its own key: where
 * no other setting follows them as well.
 */
export function withFurtherWrites(
  all: ReadonlyMap<SettingRow, readonly Claim[]>,
  settled: ReadonlyMap<SettingRow, Settled>,
): ReadonlyMap<SettingRow, Settled> {
  const taken = new Set(
    [...settled.values()].flatMap((one) => (one.kind === 'none' ? [] : one.claims.map(({ row }) => row))),
  );
  const claimants = new Map<KeyRow, number>();
  for (const claims of all.values()) for (const { row } of claims) claimants.set(row, (claimants.get(row) ?? 0) + 1);
  return new Map(
    [...settled].map(([setting, outcome]): readonly [SettingRow, Settled] => {
      if (outcome.kind !== 'sure') return [setting, outcome];
      const further = (all.get(setting) ?? []).filter(
        (claim) => !taken.has(claim.row) && claimants.get(claim.row) === 1 && isWrite(setting, claim),
      );
      return [setting, further.length === 0 ? outcome : { kind: 'sure', claims: [...outcome.claims, ...further] }];
    }),
  );
}
