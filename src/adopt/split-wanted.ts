import type { Wanted } from './wanted.ts';

/** By scope, then by instance. */
export function splitWanted(wanted: Wanted): readonly Wanted[] {
  const by = (key: (target: Wanted['targets'][number]) => string): readonly Wanted[] => {
    const groups = new Map<string, Wanted['targets'][number][]>();
    for (const target of wanted.targets) {
      const known = groups.get(key(target));
      if (known === undefined) groups.set(key(target), [target]);
      else known.push(target);
    }
    return [...groups.values()].map((targets) => ({ ...wanted, targets }));
  };
  const scopes = by(({ scope }) => JSON.stringify(scope));
  return scopes.length > 1 ? scopes : by(({ instance }) => instance);
}
