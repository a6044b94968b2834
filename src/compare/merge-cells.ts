import type { InstancePair, SideValue } from '../model/comparison.ts';
import { sameSaid } from './find-differences.ts';
import { pointKey } from './scope-points.ts';
import { namesOf } from './side.ts';
import type { Cell } from './side.ts';

/** Cells that several pairs have alike, once, in the order of the first. */
export function mergeCells(
  cells: readonly Cell[],
): readonly { readonly cell: Cell; readonly pairs: readonly InstancePair[] }[] {
  const merged: { cell: Cell; pairs: InstancePair[] }[] = [];
  for (const cell of cells) {
    const known = merged.find(
      ({ cell: one }) =>
        one.setting === cell.setting &&
        one.item === cell.item &&
        pointKey(one.scope) === pointKey(cell.scope) &&
        sameSaid(one.a, cell.a) &&
        sameSaid(one.b, cell.b) &&
        JSON.stringify(one.reasons) === JSON.stringify(cell.reasons),
    );
    if (known === undefined) merged.push({ cell, pairs: [namesOf(cell.pair)] });
    else {
      known.pairs.push(namesOf(cell.pair));
      known.cell = { ...known.cell, a: withPlace(known.cell.a, cell.a), b: withPlace(known.cell.b, cell.b) };
    }
  }
  return merged;
}

/** Of a card: the other frontend's file is told as well. */
function withPlace(value: SideValue, other: SideValue): SideValue {
  if (value.kind === 'left-alone' || other.kind === 'left-alone') return value;
  const { origin } = value;
  if (origin?.also === undefined || other.origin === undefined) return value;
  return { ...value, origin: { ...origin, also: [...origin.also, other.origin.place] } };
}
