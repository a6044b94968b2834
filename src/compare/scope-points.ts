import type { ScopePoint } from '../model/resolved.ts';

const whole: ScopePoint = {};

export function pointKey({ core, system, game }: ScopePoint): string {
  return JSON.stringify([core, system, game]);
}

/** The next wider point, as the layers rank their blocks: a game before its system, a system before a core. */
export function wider({ core, system, game }: ScopePoint): ScopePoint | undefined {
  if (core !== undefined && system !== undefined) return game === undefined ? { system } : { system, game };
  if (game !== undefined && system !== undefined) return { system };
  return core === undefined && system === undefined ? undefined : whole;
}

/** The points that any of some lists tells apart, crossed, each after all that are wider; the whole device first. */
export function crossPoints(lists: readonly (readonly ScopePoint[])[]): readonly ScopePoint[] {
  const cores = new Set<string | undefined>([undefined]);
  const systems = new Map<string | undefined, Set<string | undefined>>([[undefined, new Set([undefined])]]);
  for (const { core, system, game } of lists.flat()) {
    cores.add(core);
    const games = systems.get(system) ?? new Set<string | undefined>([undefined]);
    systems.set(system, games.add(system === undefined ? undefined : game));
  }
  const points = [...systems].flatMap(([system, games]) =>
    [...games].flatMap((game) =>
      [...cores].map((core): ScopePoint => ({
        ...(core === undefined ? {} : { core }),
        ...(system === undefined ? {} : { system }),
        ...(game === undefined ? {} : { game }),
      })),
    ),
  );
  const depth = (point: ScopePoint): number => Object.keys(point).length;
  return points.sort((a, b) => depth(a) - depth(b) || (pointKey(a) < pointKey(b) ? -1 : 1));
}
