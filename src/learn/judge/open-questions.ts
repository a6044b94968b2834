import type { Question } from '../contract.ts';

/**
 * The fewest copies that tell so many settings apart: each gets a number from 1 of its own, and is changed before the copies
 * whose bit its number has, so that no two change at the same copies (identifying codes; k copies tell 2^k - 1 apart).
 */
export function openQuestions(names: readonly string[]): readonly Question[] {
  const open = [...new Set(names)];
  const copies = open.length === 0 ? 0 : Math.floor(Math.log2(open.length)) + 1;
  return Array.from({ length: copies }, (_, copy) => {
    const own = open.filter((_name, at) => (((at + 1) >> copy) & 1) === 1);
    const [only] = own;
    const what = own.length === 1 && only !== undefined ? `Change ${only}` : `Change ${own.join(', ')}, all of them`;
    return { ask: `${what}, leave by the menu, and copy again.`, settles: own };
  });
}
