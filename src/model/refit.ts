import type { Position } from '../vocabulary/positions.ts';
import type { RefitTerm } from '../vocabulary/refit-terms.ts';
import type { HostPath } from './paths.ts';

/** A control as hands know it. */
export interface ControlSeen {
  readonly position: Position;
  readonly label: string | undefined;
}

/** What tells a chord or control on the target from the one that hands know, by term. */
export type RefitCounts = Readonly<Partial<Record<RefitTerm, number>>>;

/** A hotkey or pad input. */
export interface RefitHabit {
  /** `rewind`, `pad.south`. */
  readonly action: string;
  /** `only for frontend withy`; empty: the whole device. */
  readonly only: string;
  readonly manner: 'with-hold' | 'chord' | 'alone' | 'pad';
  readonly from: readonly ControlSeen[];
}

export interface RefitPlaced extends RefitHabit {
  readonly to: readonly ControlSeen[];
  /** Why it is not where hands know it, in clauses: 'Mere has no trigger-left'. */
  readonly why: readonly string[];
  readonly counts: RefitCounts;
}

export interface RefitDropped extends RefitHabit {
  /** Clauses: 'trigger-left: Mere does not have it'. */
  readonly why: readonly string[];
  /** What to give up, and what that would free. */
  readonly freeing: readonly { readonly giveUp: readonly string[]; readonly controls: readonly ControlSeen[] }[];
}

export interface RefitHold {
  readonly only: string;
  readonly from: ControlSeen | undefined;
  readonly to: ControlSeen | undefined;
  /** Why it is not where it is pinned: a clause. */
  readonly why: string | undefined;
  readonly counts: RefitCounts;
}

/** One value that a proposal would write into the target's profile. */
export interface RefitChange {
  readonly setting: string;
  readonly only: string;
  /** In YAML, on one line; undefined: not there. */
  readonly before: string | undefined;
  readonly after: string;
  /** In the new text, from 1. */
  readonly line: number | undefined;
}

export interface RefitProposal {
  readonly holds: readonly RefitHold[];
  readonly kept: readonly RefitPlaced[];
  readonly moved: readonly RefitPlaced[];
  readonly dropped: readonly RefitDropped[];
  /** In the order of the terms; those that count nothing are left out. */
  readonly terms: readonly { readonly term: RefitTerm; readonly count: number; readonly points: number }[];
  readonly points: number;
  /** Whether no proposal that is not listed before it costs less. */
  readonly proved: boolean;
  readonly changes: readonly RefitChange[];
}

/** One device's hotkeys for another device's controls, best first. */
export interface Refit {
  readonly from: { readonly profile: string; readonly name: string };
  readonly to: { readonly profile: string; readonly name: string };
  readonly proposals: readonly RefitProposal[];
  /** What any other costs at least. */
  readonly bound: number;
  /** Parts of the search looked at, and how many may be. */
  readonly looked: number;
  readonly most: number;
  /** Settings without a control that the target gets as they are. */
  readonly plain: readonly { readonly setting: string; readonly only: string; readonly value: string }[];
  /** Lines that no proposal can bring. */
  readonly left: readonly { readonly setting: string; readonly only: string; readonly why: string }[];
  /** What the target has of its own and keeps. */
  readonly stays: readonly { readonly action: string; readonly controls: readonly ControlSeen[] }[];
  /** Pins that no hotkey of the first device answers to. */
  readonly idlePins: readonly string[];
}

/** A text to be written. */
export interface RefitFile {
  readonly path: HostPath;
  readonly name: string;
  readonly text: string;
}
