/** How one list becomes another with the fewest places touched: equal ends are kept. */
export interface ListDifference {
  /** Index in the old list to index in the new. */
  readonly replaced: ReadonlyMap<number, number>;
  /** Indexes of the old list. */
  readonly removed: ReadonlySet<number>;
  /** New items, by their index in the new list, that go after this index of the old list (-1: first). */
  readonly added: readonly number[];
  readonly after: number;
}

/** `same(oldIndex, newIndex)` tells whether two items are equal by value. */
export function listDifference(
  oldLength: number,
  newLength: number,
  same: (oldIndex: number, newIndex: number) => boolean,
): ListDifference {
  const shorter = Math.min(oldLength, newLength);
  let head = 0;
  while (head < shorter && same(head, head)) head += 1;
  let tail = 0;
  while (tail < shorter - head && same(oldLength - 1 - tail, newLength - 1 - tail)) tail += 1;
  const replaced = new Map<number, number>();
  const removed = new Set<number>();
  const added: number[] = [];
  const oldMiddle = oldLength - head - tail;
  const newMiddle = newLength - head - tail;
  const pairs = Math.min(oldMiddle, newMiddle);
  for (let k = 0; k < pairs; k++) if (!same(head + k, head + k)) replaced.set(head + k, head + k);
  for (let k = pairs; k < oldMiddle; k++) removed.add(head + k);
  for (let k = pairs; k < newMiddle; k++) added.push(head + k);
  return { replaced, removed, added, after: head + pairs - 1 };
}
