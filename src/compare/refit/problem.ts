import type { Body } from '../../controls/chords/fingers.ts';
import type { Press } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { RefitWeights } from '../../vocabulary/refit-terms.ts';

/** What hands find on a device. */
export interface HandsOn {
  readonly body: Body | undefined;
  readonly hands: Readonly<Record<string, string>>;
  /** Labels by position, of every control that is there. */
  readonly controls: ReadonlyMap<Position, string | undefined>;
}

/**
 * Where a hotkey acts: one frontend at one scope point of the target device, by a number. Two hotkeys can only be in each
 * other's way where both act.
 */
export type Spot = number;

/** A hotkey (or pad input) as the hands know it. */
export interface Habit {
  /** Unique and stable: the setting, and what its line is narrowed to. */
  readonly id: string;
  /** `rewind`; of a pad input `pad.south`. Ordered as the vocabulary is. */
  readonly action: string;
  /** `pad`: an input of the game's pad, played by one control without hold. */
  readonly press: Press | { readonly kind: 'pad'; readonly position: Position };
  readonly spots: readonly Spot[];
  /** All controls that its line wishes for, the first included; one is no choice. */
  readonly wishes: readonly Position[];
  /** Stays where it is, or has no place. */
  readonly pinned: boolean;
  readonly destructive: boolean;
  readonly frequent: boolean;
  /** How many hotkeys it counts for when it is dropped. */
  readonly worth: number;
  /** Why the frontends cannot say it on a control; undefined: they can. */
  cannot(position: Position): string | undefined;
}

/** What the target device has of its own and keeps. */
export interface Standing {
  readonly action: string;
  readonly press: Press;
  readonly spots: readonly Spot[];
  readonly destructive: boolean;
  readonly frequent: boolean;
}

/** The hold control of some spots. */
export interface HoldHabit {
  readonly id: string;
  /** Where it is on the device that the hands know; undefined: none is known there, and the target's own stays. */
  readonly from: Position | undefined;
  /** The target's own, now. */
  readonly now: Position | undefined;
  readonly pinned: boolean;
  readonly spots: readonly Spot[];
}

/** Hotkeys of one device to be given controls of another. */
export interface RefitProblem {
  readonly from: HandsOn;
  readonly to: HandsOn;
  readonly holds: readonly HoldHabit[];
  readonly habits: readonly Habit[];
  readonly standing: readonly Standing[];
  /** Chords that the target's operating system takes. */
  readonly reserved: readonly (readonly Position[])[];
  /** Spots whose frontend acts when a control comes up, not when the last goes down. */
  readonly onRelease: ReadonlySet<Spot>;
  readonly weights: RefitWeights;
}
