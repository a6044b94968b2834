import type { KeyText } from '../model/compiled.ts';
import type { Held } from '../model/record.ts';
import { sameText } from '../model/same-text.ts';

/** What a key holds or is to hold. `unknown`: a text with a secret whose value is not at hand. */
export type Content = Held | { readonly kind: 'unknown' };

/** The text of a value for hashing: how it is spelled in the file (bare or as a string) is no part of it. */
export function hashedText(value: KeyText): string {
  return JSON.stringify(value.kind === 'scalar' ? value.text : value.items.map(({ text }) => text));
}

export function contentOf(value: KeyText | undefined): Held {
  return value === undefined ? { kind: 'absent' } : { kind: 'text', value };
}

/** `keyed`: hash of a text by the private key. `same`: whether the lens reads two texts (or none) as one value. */
export interface Comparing {
  readonly keyed: (text: string) => string;
  readonly same: (a: KeyText | undefined, b: KeyText | undefined) => boolean;
}

/** Whether two contents are the same thing; false where it cannot be known. */
export function sameContent(a: Content, b: Content, { keyed, same }: Comparing): boolean {
  if (a.kind === 'unknown' || b.kind === 'unknown') return false;
  // What is to be hashed holds the name of a secret, which no other text can be told from.
  if (a.kind === 'to-hash' || b.kind === 'to-hash')
    return a.kind === b.kind && 'value' in a && 'value' in b && sameText(a.value, b.value);
  if (a.kind === 'hashed' || b.kind === 'hashed') {
    const hash = (content: typeof a): string | undefined =>
      content.kind === 'hashed' ? content.hash : content.kind === 'text' ? keyed(hashedText(content.value)) : undefined;
    return hash(a) !== undefined && hash(a) === hash(b);
  }
  if (a.kind === 'absent' && b.kind === 'absent') return true;
  if (a.kind === 'text' && b.kind === 'text' && sameText(a.value, b.value)) return true;
  return same(a.kind === 'text' ? a.value : undefined, b.kind === 'text' ? b.value : undefined);
}
