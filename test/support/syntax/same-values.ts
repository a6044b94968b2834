import type { SyntaxValue } from '../../../src/syntax/contract.ts';

interface Item {
  readonly text: string;
  readonly literal?: boolean;
}

/** Equality of scalars, for values. */
export function sameValues(same: (a: Item, b: Item) => boolean): (a: SyntaxValue, b: SyntaxValue) => boolean {
  return (a, b) => {
    if (a.kind === 'scalar') return b.kind === 'scalar' && same(a, b);
    if (b.kind === 'scalar' || a.items.length !== b.items.length) return false;
    return a.items.every((item, k) => same(item, b.items[k] ?? { text: '', literal: true }));
  };
}
