import type { YamlMap, YamlPair } from './yaml-model.ts';
import type { YamlSlot } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** Why a change cannot be made; undefined when it is planned. */
export type Hindrance =
  | { readonly kind: 'cannot-write'; readonly why: string }
  | { readonly kind: 'no-place'; readonly why: string }
  | { readonly kind: 'shared' }
  | undefined;

/** Keys to come that several changes add to, made a mapping at the end. */
export interface Growing {
  readonly kind: 'growing';
  readonly members: Map<string, Growing | YamlValue>;
}

export const growing = (): Growing => ({ kind: 'growing', members: new Map() });

export function grown(value: Growing | YamlValue): YamlValue {
  if (value.kind !== 'growing') return value;
  return { kind: 'map', members: [...value.members].map(([name, member]) => [name, grown(member)] as const) };
}

/** What happens to one mapping. */
export interface MapChanges {
  readonly slot: YamlSlot;
  readonly removed: Set<YamlPair>;
  /** New members by the index of the pair that they follow (-1: none); the others follow the last. */
  readonly placed: Map<number, (readonly [string, YamlValue])[]>;
  readonly added: Growing;
}

/** What happens to one sequence. */
export interface SeqChanges {
  readonly slot: YamlSlot;
  readonly removed: Set<number>;
  /** New items by the index of the item that they follow (-1: none). */
  readonly added: Map<number, YamlValue[]>;
  /** The list goes with its key when it loses its last item. */
  leaves: boolean;
}

export type ChangesByMap = Map<YamlMap, MapChanges>;
