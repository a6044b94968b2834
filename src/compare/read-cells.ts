import type { SideValue } from '../model/comparison.ts';
import type { Decision, Instance, ScopePoint } from '../model/resolved.ts';
import type { Role } from '../vocabulary/types.ts';
import { settings } from '../vocabulary/registry.ts';
import { crossPoints } from './scope-points.ts';
import { shownValue } from './shown-value.ts';
import type { Cell, Paired, Side, Sides } from './side.ts';

export function reasonsOf(decision: Decision | undefined): readonly string[] {
  return (decision?.rejected ?? []).map(({ what, why }) => `not ${what}: ${why}`);
}

/** What a profile has for a setting, at one scope of one instance. */
export function said(side: Side, decision: Decision | undefined): SideValue {
  if (decision === undefined) return { kind: 'left-alone' };
  const { place, layer } = decision.origin;
  return {
    kind: 'value',
    value: decision.value,
    text: shownValue(decision.value, side.resolved.device.controls),
    origin: { place, layer },
  };
}

function asked(instance: Instance | undefined, roles: readonly Role[]): instance is Instance {
  return instance !== undefined && roles.some((role) => instance.roles.includes(role));
}

/**
 * Every setting that some layer of either side speaks of, at every scope that either tells apart, for one pair: in
 * vocabulary order, wide scopes before narrow ones.
 */
export function readCells(sides: Sides, pair: Paired): readonly Cell[] {
  const cells: Cell[] = [];
  for (const { id, roles } of settings) {
    const a = asked(pair.a, roles) ? pair.a : undefined;
    const b = asked(pair.b, roles) ? pair.b : undefined;
    const { a: one, b: two } = { a: sides.a.resolved, b: sides.b.resolved };
    const items = new Set([...(a === undefined ? [] : one.items(a, id)), ...(b === undefined ? [] : two.items(b, id))]);
    for (const item of items) {
      const points = crossPoints([
        a === undefined ? [] : one.points(a, id, item),
        b === undefined ? [] : two.points(b, id, item),
      ]);
      for (const scope of points) cells.push(readCell(sides, pair, { a, b }, id, item, scope));
    }
  }
  return cells;
}

function readCell(
  sides: Sides,
  pair: Paired,
  { a, b }: Paired,
  setting: string,
  item: string | undefined,
  scope: ScopePoint,
): Cell {
  const ofA = a === undefined ? undefined : sides.a.resolved.decide(a, setting, scope, item);
  const ofB = b === undefined ? undefined : sides.b.resolved.decide(b, setting, scope, item);
  return {
    pair,
    setting,
    item,
    scope,
    a: said(sides.a, ofA),
    b: said(sides.b, ofB),
    reasons: { a: reasonsOf(ofA), b: reasonsOf(ofB) },
  };
}
