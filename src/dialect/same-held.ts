import type { SyntaxValue } from '../syntax/contract.ts';
import type { Codec } from './codecs/contract.ts';

/** Whether a key holds what it should, in whatever spelling; undefined: there is no key. */
export function sameHeld(codec: Codec, held: SyntaxValue | undefined, wanted: SyntaxValue | undefined): boolean {
  if (held === undefined || wanted === undefined) return held === wanted;
  return codec.same(held, wanted);
}
