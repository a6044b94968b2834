import type { EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Proposal } from '../contract.ts';

function scopeOf({ scope }: Proposal): 'instance' | 'system' | 'core' {
  return scope.system !== undefined ? 'system' : scope.core !== undefined ? 'core' : 'instance';
}

/** Entries by setting: those of several scopes that differ in the file alone are one, with a file for each scope. */
export function mergeScopes(
  proposals: readonly Proposal[],
): Readonly<Record<string, EntryWritten | readonly EntryWritten[]>> {
  const merged: Record<string, EntryWritten | readonly EntryWritten[]> = {};
  const bySetting = new Map<string, Proposal[]>();
  for (const proposal of proposals)
    bySetting.set(proposal.setting.id, [...(bySetting.get(proposal.setting.id) ?? []), proposal]);
  for (const [id, all] of bySetting) {
    const byScope = new Map(all.map((proposal) => [scopeOf(proposal), proposal]));
    const entries = [...byScope].map(([scope, { entry }]) => ({ scope, entry }));
    const [first, ...others] = entries;
    if (first === undefined) continue;
    const joined = others.reduce<{ files: Record<string, string>; entry: EntryWritten } | undefined>(
      (kept, { scope, entry }) => {
        if (kept === undefined || typeof entry.file !== 'string') return undefined;
        const same = joinCodecs({ ...kept.entry, file: '' }, { ...entry, file: '' });
        return same === undefined ? undefined : { files: { ...kept.files, [scope]: entry.file }, entry: same };
      },
      typeof first.entry.file === 'string'
        ? { files: { [first.scope]: first.entry.file }, entry: first.entry }
        : undefined,
    );
    if (others.length === 0) merged[id] = scoped(first.scope, first.entry);
    else if (joined !== undefined) merged[id] = { ...joined.entry, file: joined.files };
    else merged[id] = entries.map(({ scope, entry }) => scoped(scope, entry));
  }
  return merged;
}

function scoped(scope: string, entry: EntryWritten): EntryWritten {
  return scope === 'instance' || typeof entry.file !== 'string' ? entry : { ...entry, file: { [scope]: entry.file } };
}

/** Two entries that differ in no more than what each has seen of one table; undefined where they contradict. */
export function joinCodecs(a: EntryWritten, b: EntryWritten): EntryWritten | undefined {
  if (JSON.stringify(a) === JSON.stringify(b)) return a;
  const { values: own, ...rest } = a;
  const { values: other, ...others } = b;
  if (own === undefined || other === undefined || JSON.stringify(rest) !== JSON.stringify(others)) return undefined;
  const both = { ...own, ...other };
  const agree = Object.entries(own).every(([word, text]) => both[word] === text);
  const texts = Object.values(both);
  return agree && new Set(texts).size === texts.length ? { ...rest, values: both } : undefined;
}
