import type { Change, SyntaxValue } from '../contract.ts';

/** What is asked of one place and of those below it. `at`: the change's position in the list asked. */
export interface Wish {
  own: { readonly at: number; readonly set: SyntaxValue | undefined } | undefined;
  readonly below: Map<string, Wish>;
  /** An item that is not there yet: the position that it comes after (-1: it comes first). */
  after?: number;
  /** What is missing here is an array, and what is asked below are its items. */
  isArray?: boolean;
}

export function newWish(): Wish {
  return { own: undefined, below: new Map() };
}

/** The wish at a place below, made where it is not there yet. */
export function wishBelow(from: Wish, segments: readonly string[]): Wish {
  let wish = from;
  for (const segment of segments) {
    let next = wish.below.get(segment);
    if (next === undefined) wish.below.set(segment, (next = newWish()));
    wish = next;
  }
  return wish;
}

/**
 * Puts changes in the shape of the text, so that each object is edited once. A later change of the same place, or
 * of a place that it lies in, takes an earlier one's place.
 */
export function gatherWishes(
  changes: readonly { readonly change: Change; readonly segments: readonly string[]; readonly at: number }[],
): Wish {
  const root = newWish();
  for (const { change, segments, at } of changes) {
    const wish = wishBelow(root, segments);
    wish.own = { at, set: change.op === 'set' ? change.value : undefined };
    wish.below.clear();
  }
  return root;
}

/** Every change asked of this place and below. */
export function* changesOf(wish: Wish): Generator<{ readonly at: number; readonly set: SyntaxValue | undefined }> {
  const waiting = [wish];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (next.own !== undefined) yield next.own;
    waiting.push(...next.below.values());
  }
}
