import type { Measure } from '../vocabulary/types.ts';
import type { Position } from '../vocabulary/positions.ts';

/** A resolved value: what one instance, at one scope, is to hold for one setting. Plain data, compared by content. */
export type Value =
  | { readonly kind: 'boolean'; readonly is: boolean }
  /** A word of a closed list, a quantity's word (`never`), or a number given where a word may stand. */
  | { readonly kind: 'word'; readonly word: string }
  | { readonly kind: 'number'; readonly number: number }
  /** In the measure's base unit (time ms, size bytes, multiplier 1, percent 1, rate 1 a day, gain 1 dB). */
  | { readonly kind: 'quantity'; readonly measure: Measure; readonly amount: number }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'secret'; readonly name: string }
  | { readonly kind: 'control'; readonly position: Position }
  | { readonly kind: 'press'; readonly press: Press; readonly while: 'held' | 'toggled' | 'press' }
  /** A hotkey or control taken away on purpose (`none`). */
  | { readonly kind: 'none' }
  | { readonly kind: 'place'; readonly part: string; readonly folder: string }
  | { readonly kind: 'words'; readonly words: readonly string[] }
  | { readonly kind: 'texts'; readonly texts: readonly string[] }
  | { readonly kind: 'networks'; readonly networks: readonly Network[] }
  /** The core that runs a system: on which instance, and its id in the catalog. */
  | { readonly kind: 'core'; readonly instance: string; readonly core: string };

/** What is pressed: with the hold control, exactly these together, or alone. Positions in pressing order. */
export type Press =
  | { readonly kind: 'with-hold'; readonly position: Position }
  | { readonly kind: 'chord'; readonly positions: readonly Position[] }
  | { readonly kind: 'alone'; readonly position: Position };

/** The controls of a press, the hold control of one with hold left out. */
export function pressedControls(
  press: { readonly positions: readonly Position[] } | { readonly position: Position },
): readonly Position[] {
  return 'positions' in press ? press.positions : [press.position];
}

export interface Network {
  readonly name: string;
  /** Name of the secret; absent for an open network. */
  readonly password?: string;
  readonly hidden: boolean;
}

/** Whether two values are the same thing. `words` and `texts` compare in order. */
export function sameValue(a: Value, b: Value): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
