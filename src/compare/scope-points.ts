import type { ScopePoint } from '../model/resolved.ts';

const whole: ScopePoint = {};

export function pointKey({ core, system, game }: ScopePoint): string {
  return JSON.stringify([core, system, game]);
}

/** All wider points, nearest first, as the layers rank their blocks: a game before its system, a system before a core. */
export function widerThan({ core, system, game }: ScopePoint): readonly ScopePoint[] {
  const ofCore = core === undefined ? [] : [{ core }];
  const ofSystem = system === undefined ? [] : [...ofCore.map((one) => ({ ...one, system })), { system }];
  const ofGame =
    system === undefined || game === undefined
      ? []
      : [...ofCore.map((one) => ({ ...one, system, game })), { system, game }];
  const self = pointKey({
    ...(core === undefined ? {} : { core }),
    ...(system === undefined ? {} : { system }),
    ...(game === undefined ? {} : { game }),
  });
  return [...ofGame, ...ofSystem, ...ofCore, whole].filter((point) => pointKey(point) !== self);
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
  return points.sort(byWidth);
}

/** Wide points before narrow ones, in one order. */
export function byWidth(a: ScopePoint, b: ScopePoint): number {
  return Object.keys(a).length - Object.keys(b).length || (pointKey(a) < pointKey(b) ? -1 : 1);
}
