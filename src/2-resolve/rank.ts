import type { Candidate, Instance, ScopePoint, Selectors } from '../model/resolved.ts';

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

/** Whether a candidate speaks to an instance at all, whatever the scope. */
export function reachesInstance(candidate: Candidate, instance: Instance): boolean {
  const wanted = candidate.selectors.frontend;
  if (wanted === undefined) return true;
  return wanted.includes(instance.name) || wanted.includes(instance.dialect.data.dialect);
}

/** Whether a candidate speaks to an instance at a scope point. */
export function matches(candidate: Candidate, instance: Instance, point: ScopePoint): boolean {
  if (!reachesInstance(candidate, instance)) return false;
  for (const name of ['core', 'system', 'game'] as const) {
    const at = point[name];
    const wanted = candidate.selectors[name];
    if (wanted !== undefined && (at === undefined || !wanted.includes(at))) return false;
    const implied = candidate.implied[name];
    if (implied !== undefined && implied !== at) return false;
  }
  return true;
}
