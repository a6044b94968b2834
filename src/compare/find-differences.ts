import type { SideValue, Which } from '../model/comparison.ts';
import { meaningOf } from './meaning.ts';
import { pointKey, widerThan } from './scope-points.ts';
import { cellKey } from './side.ts';
import type { Cell, Paired, Sides } from './side.ts';

/** The meaning of what a side has, as a text that is equal for what means the same on either side. */
export type Meaning = (cell: Cell, which: Which) => string;

/** Instances are known on both sides by their pair; one without a counterpart by its side and name. */
export function meaningIn(sides: Sides, pairs: readonly Paired[]): Meaning {
  const names = { a: new Map<string, string>(), b: new Map<string, string>() };
  pairs.forEach(({ a, b }, index) => {
    if (a === undefined || b === undefined) return;
    names.a.set(a.name, `pair ${index}`);
    names.b.set(b.name, `pair ${index}`);
  });
  return (cell, which) => {
    const value = cell[which];
    const instance = cell.pair[which];
    if (value.kind !== 'value') return value.kind === 'unreadable' ? `unreadable ${value.text}` : '';
    return meaningOf(cell.setting, value.value, {
      hold: instance === undefined ? undefined : sides[which].holds.get(instance.name),
      instanceName: (name) => names[which].get(name) ?? name,
    });
  };
}

/**
 * The fewest cells that tell how the sides differ: those in which they do, and that are not told by the nearest wider
 * one. A narrower scope is told by a wider one where both sides have there what they have here; a scope at which both
 * say the same of their own accord is not a difference. So A becomes B by giving each cell told B's value, and with it
 * the narrower scopes in which A has the same as at the cell. `cells`: wide before narrow.
 */
export function findDifferences(cells: readonly Cell[], meaning: Meaning): readonly Cell[] {
  const told = new Map<string, { readonly a: string; readonly b: string }>();
  return cells.filter((cell) => {
    const a = meaning(cell, 'a');
    const b = meaning(cell, 'b');
    const above = nearest(told, cell);
    const tells =
      above === undefined ? a !== b : !(above.a === a && above.b === b) && !(a === b && above.a !== a && above.b !== b);
    if (tells) told.set(`${cellKey(cell)}\n${pointKey(cell.scope)}`, { a, b });
    return tells;
  });
}

function nearest<T>(told: ReadonlyMap<string, T>, cell: Cell): T | undefined {
  for (const point of widerThan(cell.scope)) {
    const known = told.get(`${cellKey(cell)}\n${pointKey(point)}`);
    if (known !== undefined) return known;
  }
  return undefined;
}

/** Of one side alone: the cells at which it has something else than at the nearest wider one that was kept. */
export function findSaid(cells: readonly Cell[], which: Which, meaning: Meaning): readonly Cell[] {
  const told = new Map<string, string>();
  return cells.filter((cell) => {
    const means = meaning(cell, which);
    const tells = means !== (nearest(told, cell) ?? '');
    if (tells) told.set(`${cellKey(cell)}\n${pointKey(cell.scope)}`, means);
    return tells;
  });
}

export function sameSaid(a: SideValue, b: SideValue): boolean {
  return JSON.stringify([a.kind, textOf(a), originOf(a)]) === JSON.stringify([b.kind, textOf(b), originOf(b)]);
}

function textOf(value: SideValue): string {
  return value.kind === 'left-alone' ? '' : value.text;
}

function originOf(value: SideValue): unknown {
  // Of a card, every frontend has its own file: what they have alike is the same nevertheless.
  if (value.kind === 'left-alone' || value.origin?.also !== undefined) return undefined;
  return [value.origin?.place.source.name, value.origin?.place.span.start];
}
