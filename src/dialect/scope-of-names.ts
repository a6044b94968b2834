import type { Scope } from '../vocabulary/types.ts';

/** The narrowest scope that a path or a key names. */
export function scopeOfNames(names: readonly string[]): Scope {
  for (const scope of ['game', 'system', 'core'] as const)
    if (names.some((name) => name.startsWith(`${scope}.`))) return scope;
  return 'instance';
}
