import type { InstancePair } from '../model/comparison.ts';
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
    else known.pairs.push(namesOf(cell.pair));
  }
  return merged;
}
