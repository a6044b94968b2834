import { explainSides } from '../compare/parting/explain-sides.ts';
import type { Explanation } from '../model/parting.ts';
import { sideOf } from './compare-profiles.ts';
import type { ReadSide } from './compare-profiles.ts';

/** Why one side's settings are other than another one's; of one setting alone where it is named. */
export function explainAgainst(a: ReadSide, b: ReadSide, setting: string | undefined): Explanation {
  return explainSides({ a: sideOf(a), b: sideOf(b) }, { a: a.parts.compiled, b: b.parts.compiled }, setting);
}
