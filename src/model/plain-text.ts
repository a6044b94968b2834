import type { KeyText } from './compiled.ts';

/** What a key holds, as one text for people: the items of a list with commas between. */
export function plainText(value: KeyText): string {
  return value.kind === 'scalar' ? value.text : value.items.map(({ text }) => text).join(', ');
}
