import type { Value } from '../model/value.ts';
import type { Difference, UnreadableKey } from './difference.ts';

/** What the profile is to say. */
export type Wish =
  | { readonly kind: 'value'; readonly value: Value }
  /** Nothing, any more. */
  | { readonly kind: 'clear' }
  /** Nothing, and these raw keys instead. */
  | { readonly kind: 'raw'; readonly keys: readonly UnreadableKey[] };

/** One thing to adopt: a setting that all its places have alike on the card. */
export interface Wanted {
  readonly setting: string;
  readonly item?: string;
  readonly to: Wish;
  /** One at least. */
  readonly targets: readonly Difference[];
  /** Ids (path and key) of raw keys, as `askedOf` names them. */
  readonly rawIds: readonly string[];
}
