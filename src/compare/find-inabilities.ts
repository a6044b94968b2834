import type { Inability, Which } from '../model/comparison.ts';
import { express } from './express.ts';
import type { Expressed } from './express.ts';
import { pointKey, widerThan } from './scope-points.ts';
import { cellKey, other, whiches } from './side.ts';
import type { Cell, Sides } from './side.ts';

/** Whether a side can hold what the other, or itself, has in a cell; undefined where that is nothing. */
export function canHold(sides: Sides, cell: Cell, side: Which, of: Which): Expressed | undefined {
  const instance = cell.pair[side];
  const value = cell[of];
  if (instance === undefined || value.kind !== 'value') return undefined;
  return express(sides[side], instance, { ...cell, value: value.value });
}

/** The side that has the value cannot hold it either; near on both sides is no difference where it is equally near. */
function isNoBetter(theirs: Expressed, ours: Expressed): boolean {
  if (theirs.kind === 'can') return false;
  if (theirs.inability !== 'only-near') return true;
  return ours.kind === 'cannot' && ours.inability === 'only-near' && ours.why === theirs.why;
}

/**
 * What the one side has, and holds, and the other cannot: whether or not that has something else in its place. What is
 * told of a wider scope is not told again.
 */
export function findInabilities(sides: Sides, cells: readonly Cell[]): readonly Inability[] {
  const told = new Map<string, string>();
  const wanted = new Map<string, string>();
  const found = new Map<string, Inability & { readonly instances: string[] }>();
  for (const cell of cells) {
    for (const side of whiches) {
      const of = other(side);
      const value = cell[of];
      const instance = cell.pair[side];
      const at = `${side}\n${cellKey(cell)}`;
      const [above] = widerThan(cell.scope);
      const means = value.kind === 'value' ? value.text : '';
      wanted.set(`${at}\n${pointKey(cell.scope)}`, means);
      // A frontend that has no such scope has there what it has around it.
      if (above !== undefined && wanted.get(`${at}\n${pointKey(above)}`) === means) continue;
      const theirs = canHold(sides, cell, of, of);
      const ours = canHold(sides, cell, side, of);
      if (instance === undefined || value.kind !== 'value' || theirs === undefined || ours === undefined) continue;
      if (ours.kind === 'can' || isNoBetter(theirs, ours)) continue;
      const about = JSON.stringify([value.text, ours.inability, ours.why]);
      told.set(`${at}\n${pointKey(cell.scope)}`, about);
      if (above !== undefined && told.get(`${at}\n${pointKey(above)}`) === about) continue;
      const key = JSON.stringify([side, cell.setting, cell.item, pointKey(cell.scope), about]);
      const known = found.get(key);
      if (known !== undefined) known.instances.push(instance.name);
      else
        found.set(key, {
          side,
          instances: [instance.name],
          setting: cell.setting,
          ...(cell.item === undefined ? {} : { item: cell.item }),
          scope: cell.scope,
          wanted: value.text,
          kind: ours.inability,
          why: ours.why,
        });
    }
  }
  return [...found.values()];
}
