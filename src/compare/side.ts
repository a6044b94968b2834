import type { Lens } from '../dialect/contract.ts';
import type { InstancePair, SideValue, Which } from '../model/comparison.ts';
import type { Instance, Resolved, ScopePoint } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';

/** One side as it is read: a profile with every layer applied, and the lenses of its instances. */
export interface Side {
  /** As the person named it. */
  readonly shown: string;
  readonly resolved: Resolved;
  readonly lenses: ReadonlyMap<string, Lens>;
  /** The hold control of each instance that has one. */
  readonly holds: ReadonlyMap<string, Position>;
  /** Only this instance is looked at. */
  readonly only: string | undefined;
  /** Why an instance cannot run a core for a system; undefined when it can. */
  readonly whyNoCore: (core: string, system: string, instance: Instance) => string | undefined;
}

export interface Sides {
  readonly a: Side;
  readonly b: Side;
}

/** Two instances that are held against each other; one of them may be lacking. */
export interface Paired {
  readonly a: Instance | undefined;
  readonly b: Instance | undefined;
}

/** One setting at one scope of one pair, as both sides have it. */
export interface Cell {
  readonly pair: Paired;
  readonly setting: string;
  readonly item: string | undefined;
  readonly scope: ScopePoint;
  readonly a: SideValue;
  readonly b: SideValue;
  readonly reasons: { readonly a: readonly string[]; readonly b: readonly string[] };
}

export const whiches: readonly Which[] = ['a', 'b'];

export function other(which: Which): Which {
  return which === 'a' ? 'b' : 'a';
}

export function namesOf({ a, b }: Paired): InstancePair {
  return { a: a?.name, b: b?.name };
}

/** Names a setting of a pair, whatever the scope. */
export function cellKey({ pair, setting, item }: Pick<Cell, 'pair' | 'setting' | 'item'>): string {
  return JSON.stringify([pair.a?.name, pair.b?.name, setting, item]);
}
