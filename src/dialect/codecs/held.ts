import type { SyntaxValue } from '../../syntax/contract.ts';
import type { Slots } from './contract.ts';

/** The slot of a codec that has one key. */
export const onlySlot = '';

export function scalar(text: string): SyntaxValue {
  return { kind: 'scalar', text };
}

export function oneSlot(text: string): Slots {
  return new Map([[onlySlot, scalar(text)]]);
}

/** The text of the only slot; undefined when it holds a list or nothing. */
export function onlyText(held: Slots): string | undefined {
  const value = held.get(onlySlot);
  return value?.kind === 'scalar' ? value.text : undefined;
}
