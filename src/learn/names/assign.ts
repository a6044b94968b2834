import { isAboutControl } from '../../vocabulary/about-control.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { groupOf } from './bind-look.ts';
import type { Candidate, RankedKey } from './rank-settings.ts';

/** One setting, with the keys that say it. */
export interface Assigned {
  readonly setting: SettingDefinition;
  readonly system: string | undefined;
  readonly keys: readonly RankedKey[];
  readonly candidate: Candidate;
  readonly grade: 'likely' | 'possible';
  /** What else the key may say, and which other keys may say the setting. */
  readonly rivals: readonly string[];
}

/** Below this nothing is likely, and below the other nothing is worth a comment. Set on the tuning half of the corpus. */
const thresholds = { likely: 0.56, possible: 0.38, margin: 1.12 } as const;

/** A key's own words without those that say a form of a control or a manner: keys with the same are one setting's. */
function base({ seen, name }: RankedKey, facets: ReadonlySet<string>): string {
  const own = name.own
    .map(({ text }) => text)
    .filter((text) => !facets.has(text) && !/^(lock|toggle|held|hold|button|btn|axis|hat)$/.test(text));
  return `${groupOf(seen)}\0${own.join(' ')}`;
}

/**
 * One key to one setting and one setting to one key (or to the keys that are forms of one), at each system by itself.
 * Greedy, best pair first, with a margin over what it beats: where two keys or two settings are close, nothing is likely.
 * The optimal assignment (Kuhn 1955) would trade a clear pair for two doubtful ones, which a person would not.
 */
export function assign(ranked: readonly RankedKey[], facets: ReadonlySet<string>): readonly Assigned[] {
  const families = new Map<string, RankedKey[]>();
  for (const one of ranked) {
    const at = base(one, facets);
    const known = families.get(at);
    if (known === undefined) families.set(at, [one]);
    else known.push(one);
  }
  const pairs = ranked
    .flatMap((key) => key.candidates.map((candidate) => ({ key, candidate })))
    .sort(
      (a, b) =>
        b.candidate.score - a.candidate.score || Number(a.key.seen.commentedOut) - Number(b.key.seen.commentedOut),
    );
  const bySetting = new Map<string, typeof pairs>();
  const scope = (id: string, system: string | undefined): string => `${id}\0${system ?? ''}`;
  for (const pair of pairs) {
    const at = scope(pair.candidate.setting.id, pair.key.seen.system);
    const known = bySetting.get(at);
    if (known === undefined) bySetting.set(at, [pair]);
    else known.push(pair);
  }
  const usedKeys = new Set<RankedKey>();
  const usedSettings = new Map<string, RankedKey[]>();
  const found: Assigned[] = [];
  for (const { key, candidate } of pairs) {
    if (candidate.score < thresholds.possible) break;
    const at = scope(candidate.setting.id, key.seen.system);
    if (usedKeys.has(key) || usedSettings.has(at)) continue;
    const bind = isAboutControl(candidate.setting);
    const family = bind
      ? (families.get(base(key, facets)) ?? [key]).filter(
          (one) =>
            !usedKeys.has(one) &&
            one.candidates.some(({ setting }) => setting === candidate.setting) &&
            one.seen.system === key.seen.system,
        )
      : [key];
    const keys = family.includes(key) ? family : [key, ...family];
    const otherKeys = (bySetting.get(at) ?? []).filter(
      (other) =>
        !keys.includes(other.key) &&
        !usedKeys.has(other.key) &&
        other.candidate.score * thresholds.margin > candidate.score &&
        other.key.candidates[0]?.setting === candidate.setting,
    );
    const otherSettings = key.candidates.filter(
      (other) =>
        other.setting !== candidate.setting &&
        other.score * thresholds.margin > candidate.score &&
        !usedSettings.has(scope(other.setting.id, key.seen.system)),
    );
    for (const one of keys) usedKeys.add(one);
    usedSettings.set(at, [...keys]);
    found.push({
      setting: candidate.setting,
      system: key.seen.system,
      keys,
      candidate,
      grade:
        candidate.score >= thresholds.likely && otherKeys.length === 0 && otherSettings.length === 0
          ? 'likely'
          : 'possible',
      rivals: [
        ...otherSettings.map(({ setting }) => `the key may say ${setting.id}`),
        ...otherKeys.map(({ key: other }) => `${other.seen.file} ${other.seen.key} may say it as well`),
      ],
    });
  }
  return found;
}
