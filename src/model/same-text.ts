import type { KeyText } from './compiled.ts';

/** By what a program reads: that a number stands bare or in quotes is spelling. Undefined: the key is not there. */
export function sameText(a: KeyText | undefined, b: KeyText | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  if (a.kind === 'scalar') return b.kind === 'scalar' && a.text === b.text;
  return (
    b.kind === 'list' &&
    a.items.length === b.items.length &&
    a.items.every(({ text }, index) => text === b.items[index]?.text)
  );
}
