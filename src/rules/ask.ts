import type { Decision, Instance, Resolved, ScopePoint } from '../model/resolved.ts';

/** Instances that play games. */
export function players(resolved: Resolved): readonly Instance[] {
  return resolved.instances.filter((instance) => instance.roles.includes('player'));
}

/** The decision when it is the boolean `is`. */
export function decidedAs(
  resolved: Resolved,
  instance: Instance,
  setting: string,
  is: boolean,
  point: ScopePoint = {},
): Decision | undefined {
  const decision = resolved.decide(instance, setting, point);
  return decision?.value.kind === 'boolean' && decision.value.is === is ? decision : undefined;
}

/** A setting's decision on the first instance of the roles it is for that has one: enough for what a device has once. */
export function decidedAnywhere(resolved: Resolved, setting: string): Decision | undefined {
  for (const instance of resolved.instances) {
    const decision = resolved.decide(instance, setting, {});
    if (decision !== undefined) return decision;
  }
  return undefined;
}

/** The first of several things that share a key; for one finding where many instances have the same cause. */
export function firstByOrigin<T extends { readonly origin: Decision['origin'] }>(items: readonly T[]): readonly T[] {
  const seen = new Set<string>();
  return items.filter(({ origin }) => {
    const key = `${origin.place.source.name}:${origin.place.span.start}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
