import type { Candidate, Instance, Resolved, ScopePoint, Selectors } from '../../model/resolved.ts';

/** One frontend of the target at one scope point. */
export interface SpotOf {
  readonly instance: Instance;
  readonly point: ScopePoint;
}

/** Everywhere that the layers of either side tell hotkeys or pad settings apart, the whole frontend first. */
export function spotsOf(from: Resolved, to: Resolved, ids: readonly string[]): readonly SpotOf[] {
  const points = new Map<string, ScopePoint>([['{}', {}]]);
  for (const side of [from, to])
    for (const instance of side.instances)
      for (const id of ids) for (const point of side.points(instance, id)) points.set(JSON.stringify(point), point);
  return to.instances.flatMap((instance) => [...points.values()].map((point) => ({ instance, point })));
}

/** The names under which lines of the first device speak to a frontend of the target. */
export type Answering = (instance: Instance) => ReadonlySet<string>;

/** By its dialect's name; by its own where both have it with one dialect; else by those of the same dialect. */
export function answering(from: Resolved): Answering {
  return (instance) => {
    const dialect = instance.dialect.data.dialect;
    const same = from.instances.filter((other) => other.dialect.data.dialect === dialect);
    const namesake = same.filter(({ name }) => name === instance.name);
    return new Set([dialect, ...(namesake.length > 0 ? namesake : same).map(({ name }) => name)]);
  };
}

/** Whether a line of the first device speaks to a spot of the target. */
function speaksTo({ selectors }: Candidate, { instance, point }: SpotOf, names: Answering): boolean {
  const known = names(instance);
  if (selectors.frontend?.some((name) => known.has(name)) === false) return false;
  return (['core', 'system', 'game'] as const).every((member) => {
    const at = point[member];
    return selectors[member] === undefined || (at !== undefined && selectors[member].includes(at));
  });
}

/** The line of the first device that wins at a spot; undefined: none speaks to it, or it clears what others say. */
export function winnerAt(all: readonly Candidate[], spot: SpotOf, names: Answering): Candidate | undefined {
  const speaking = all.filter((candidate) => speaksTo(candidate, spot, names));
  const best = speaking.reduce<Candidate | undefined>(
    (top, one) => (top === undefined || compareRanks(one, top) > 0 ? one : top),
    undefined,
  );
  return best?.wish.kind === 'clear' ? undefined : best;
}

function compareRanks(a: Candidate, b: Candidate): number {
  const at = a.rank.findIndex((value, k) => value !== b.rank[k]);
  return at < 0 ? 0 : (a.rank[at] ?? 0) - (b.rank[at] ?? 0);
}

/** Selectors as the target's profile would write them: frontends by names that mean something there. */
export function selectorsThere(selectors: Selectors, to: Resolved, names: Answering): Selectors {
  const { frontend } = selectors;
  if (frontend === undefined) return selectors;
  const meant = (name: string): readonly string[] => {
    const direct = to.instances.some((one) => one.name === name || one.dialect.data.dialect === name);
    return direct ? [name] : to.instances.filter((one) => names(one).has(name)).map((one) => one.name);
  };
  return { ...selectors, frontend: [...new Set(frontend.flatMap(meant))] };
}

/** `, only for frontend withy and system burdock`; empty for the whole device. */
export function onlyFor(selectors: Selectors): string {
  const parts = (['frontend', 'core', 'system', 'game'] as const).flatMap((name) => {
    const given = selectors[name];
    return given === undefined ? [] : [`${name} ${given.join(' or ')}`];
  });
  return parts.length === 0 ? '' : `only for ${parts.join(' and ')}`;
}
