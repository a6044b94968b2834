import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { Candidate, Instance, ScopePoint, Selectors, Unreached } from '../model/resolved.ts';

/** Narrowest first loses to narrowest last: frontend < core < system < game. */
const selectorNames = ['frontend', 'core', 'system', 'game'] as const;

/** The part of a candidate's rank that its selectors give: narrowest selector (0 for none) and their number. */
export function selectorRank(selectors: Selectors): readonly [number, number] {
  let narrowest = 0;
  let count = 0;
  selectorNames.forEach((name, index) => {
    if (selectors[name] === undefined) return;
    narrowest = index + 1;
    count += 1;
  });
  return [narrowest, count];
}

/** Negative when `a` ranks below `b`. */
export function compareRank(a: Candidate, b: Candidate): number {
  for (let k = 0; k < 4; k++) {
    const difference = (a.rank[k] ?? 0) - (b.rank[k] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Whether an instance that says which cores it has can ever be asked about these cores and systems. */
function canRun(
  instance: Instance,
  cores: readonly string[] | undefined,
  systems: readonly string[] | undefined,
  catalog: CatalogWritten | undefined,
): boolean {
  if (instance.cores === undefined) return true;
  const installed = [...instance.cores.keys()];
  const having = cores === undefined ? installed : installed.filter((core) => cores.includes(core));
  if (systems === undefined || catalog === undefined) return cores === undefined || having.length > 0;
  // A core that the catalog does not know may run any system.
  return having.some(
    (core) =>
      !Object.hasOwn(catalog.cores ?? {}, core) ||
      systems.some((system) => catalog.cores?.[core]?.systems.includes(system) ?? true),
  );
}

function either(wanted: readonly string[] | undefined, implied: string | undefined): readonly string[] | undefined {
  return implied === undefined ? wanted : [implied];
}

/** Why a candidate says nothing to an instance, whatever the scope: to one that lacks the core or the system's cores it does not speak. */
function unreachedInstance(
  { selectors, implied }: Candidate,
  instance: Instance,
  catalog: CatalogWritten | undefined,
): Unreached | undefined {
  const wanted = selectors.frontend;
  if (wanted !== undefined && !wanted.includes(instance.name) && !wanted.includes(instance.dialect.data.dialect))
    return { by: 'frontend', only: wanted };
  return canRun(instance, either(selectors.core, implied.core), either(selectors.system, implied.system), catalog)
    ? undefined
    : { by: 'installed' };
}

/** Whether a candidate speaks to an instance at all. */
export function reachesInstance(
  candidate: Candidate,
  instance: Instance,
  catalog: CatalogWritten | undefined,
): boolean {
  return unreachedInstance(candidate, instance, catalog) === undefined;
}

/** Why a candidate does not speak to an instance at a scope point; undefined: it does. */
export function unreached(
  candidate: Candidate,
  instance: Instance,
  point: ScopePoint,
  catalog: CatalogWritten | undefined,
): Unreached | undefined {
  const whole = unreachedInstance(candidate, instance, catalog);
  if (whole !== undefined) return whole;
  for (const name of ['core', 'system', 'game'] as const) {
    const at = point[name];
    const only = either(candidate.selectors[name], candidate.implied[name]);
    const wanted = candidate.selectors[name];
    if (only !== undefined && (at === undefined || !only.includes(at) || wanted?.includes(at) === false))
      return { by: name, only };
  }
  return undefined;
}

/** Whether a candidate speaks to an instance at a scope point. */
export function matches(
  candidate: Candidate,
  instance: Instance,
  point: ScopePoint,
  catalog: CatalogWritten | undefined,
): boolean {
  return unreached(candidate, instance, point, catalog) === undefined;
}
