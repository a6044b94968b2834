import type { Decision, ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';

/** What the card has where it has something else than the profile. */
export type OnCard =
  | { readonly kind: 'value'; readonly value: Value }
  /** Ours by the record, and taken out by hand. */
  | { readonly kind: 'gone' }
  /** A secret in plain text. It is never shown: it goes to the private file under the setting's name. */
  | { readonly kind: 'secret'; readonly text: string }
  /** Wi-Fi networks. */
  | { readonly kind: 'networks'; readonly networks: readonly CardNetwork[] }
  /** No value of the setting is spelled so. */
  | { readonly kind: 'unreadable'; readonly keys: readonly UnreadableKey[] }
  /** Some of several keys that say one thing say another. */
  | { readonly kind: 'half-changed'; readonly keys: readonly { readonly file: string; readonly key: string }[] };

/** A network as a card, or (where the card does not have it) the profile, says it. */
export interface CardNetwork {
  readonly name: string;
  readonly hidden: boolean;
  /** The password, in plain text, where the card tells it. Never shown. */
  readonly text?: string;
  /** What the profile calls the password. */
  readonly secret?: string;
}

export interface UnreadableKey {
  /** File id in the dialect. */
  readonly file: string;
  readonly key: string;
  readonly text: string;
}

/** One setting of one instance, at one scope, that the card has otherwise than the profile. */
export interface Difference {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  /** Undefined: the profile leaves it alone. */
  readonly decision: Decision | undefined;
  /** Whether a record says that we wrote it. */
  readonly owned: boolean;
  readonly onCard: OnCard;
}

/** Names one setting of one instance at one scope. */
export function placeKey(place: {
  readonly setting: string;
  readonly item?: string | undefined;
  readonly instance: string;
  readonly scope: ScopePoint;
}): string {
  const { core, system, game } = place.scope;
  return JSON.stringify([place.instance, place.setting, place.item, core, system, game]);
}
