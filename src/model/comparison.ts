import type { Place } from '../text/place.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { ScopePoint } from './resolved.ts';
import type { Value } from './value.ts';

/** Which of the two that are compared. */
export type Which = 'a' | 'b';

/** Where a side has something from: a line of its YAML, or of a file on its card. */
export interface SaidOrigin {
  readonly place: Place;
  /** For people: `house village-library`, `profile fen, only for system burdock`, `the card`. */
  readonly layer: string;
  /** On a card, where each frontend has a file of its own: where the others that are told with it have the same. */
  readonly also?: readonly Place[];
}

/** What one side has for a setting. `text`: the value in few words, secrets by name. */
export type SideValue =
  | { readonly kind: 'value'; readonly value: Value; readonly text: string; readonly origin: SaidOrigin | undefined }
  /** No layer says anything; on a card: nothing stands there. */
  | { readonly kind: 'left-alone' }
  /** Only on a card: what stands there is no value of the setting. */
  | { readonly kind: 'unreadable'; readonly text: string; readonly origin: SaidOrigin | undefined };

/** Two instances that are held against each other, or one that has no counterpart. */
export interface InstancePair {
  readonly a: string | undefined;
  readonly b: string | undefined;
}

/** One setting that the two sides have otherwise at one scope: in all of `pairs` alike. */
export interface SettingDifference {
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  readonly pairs: readonly InstancePair[];
  readonly a: SideValue;
  readonly b: SideValue;
  /** Set where both say the same: the scope is told for not being as the wider one is. */
  readonly agree?: true;
  /** Why there and not otherwise: wishes passed over, by side. */
  readonly reasons: { readonly a: readonly string[]; readonly b: readonly string[] };
}

/** An instance that the other side has nothing to hold against, with all that is said for it. */
export interface LoneInstance {
  readonly side: Which;
  readonly instance: string;
  readonly dialect: string;
  readonly says: readonly {
    readonly setting: string;
    readonly item?: string;
    readonly scope: ScopePoint;
    readonly value: SideValue;
  }[];
}

/** A fact of the device, of a frontend, or of a file that is written raw. Undefined: not said, or not there. */
export interface FactDifference {
  readonly fact: string;
  readonly a: FactSide | undefined;
  readonly b: FactSide | undefined;
}

export interface FactSide {
  readonly text: string;
  readonly place: Place | undefined;
}

/** One position that either device has; `label`: what is printed there, where that is known. */
export interface ComparedControl {
  readonly position: Position;
  readonly a: { readonly label: string | undefined; readonly place: Place } | undefined;
  readonly b: { readonly label: string | undefined; readonly place: Place } | undefined;
}

export type HotkeyChange =
  /** The same place, another letter. */
  | 'same-place'
  /** The same letter, another place. */
  | 'same-letter'
  | 'moved'
  /** The same controls, pressed otherwise (held or toggled, with hold or alone). */
  | 'other-way'
  | 'only-a'
  | 'only-b';

/** One side's press, by position and by label. `text` names both. */
export interface ComparedPress {
  readonly positions: readonly Position[];
  readonly labels: readonly (string | undefined)[];
  readonly text: string;
  readonly origin: SaidOrigin | undefined;
}

/** A hotkey that differs by position or by label. Undefined: unbound, or left alone. */
export interface HotkeyDifference {
  readonly setting: string;
  readonly scope: ScopePoint;
  readonly pairs: readonly InstancePair[];
  readonly change: HotkeyChange;
  readonly a: ComparedPress | undefined;
  readonly b: ComparedPress | undefined;
}

export type InabilityKind = 'no-control' | 'no-entry' | 'no-core' | 'no-wifi' | 'no-spelling' | 'only-near';

/** What one side cannot express of what the other has. */
export interface Inability {
  /** The side that cannot. */
  readonly side: Which;
  readonly instances: readonly string[];
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  /** What the other side has. */
  readonly wanted: string;
  readonly kind: InabilityKind;
  /** A clause, lower case, no full stop. */
  readonly why: string;
}

/** What a person who is used to A must unlearn on B. */
export interface Unlearn {
  readonly setting: string;
  readonly scope: ScopePoint;
  /** Instances of A in which it is so. */
  readonly instances: readonly string[];
  /** What the hands do on A. */
  readonly was: string;
  /** What does it on B; undefined: nothing. */
  readonly now: string | undefined;
  /** Why nothing does it, where that is known. */
  readonly why: string | undefined;
  /** What the old press does on B: another action, or something of the system's. */
  readonly oldPressDoes: string | undefined;
  /** The old press loses something on B. */
  readonly dangerous: boolean;
  /** Positions of A that the hands go to, and those of B. */
  readonly positions: { readonly a: readonly Position[]; readonly b: readonly Position[] };
}

export interface ComparedSide {
  /** As the person named it: `tarn`, `fen@HEAD~1`, `fen#harrow-hall`. */
  readonly shown: string;
  readonly device: string;
  readonly body: 'upright' | 'wide' | 'folding' | undefined;
  readonly has: readonly Position[];
}

/** Two devices side by side, by meaning. One computed thing, for every renderer. Empty lists: no difference. */
export interface Comparison {
  readonly a: ComparedSide;
  readonly b: ComparedSide;
  readonly pairs: readonly InstancePair[];
  /** Every setting that differs, hotkeys and cores too, in vocabulary order. */
  readonly settings: readonly SettingDifference[];
  readonly lone: readonly LoneInstance[];
  readonly facts: readonly FactDifference[];
  /** All controls of both devices, in the order of positions; those that differ are in `facts` of no kind. */
  readonly controls: readonly ComparedControl[];
  readonly hotkeys: readonly HotkeyDifference[];
  readonly cannot: readonly Inability[];
  readonly hands: readonly Unlearn[];
  /** What could not be compared, and why: sentences. */
  readonly untold: readonly string[];
}

/** Whether a control is on one device alone, or bears another label. */
export function controlDiffers({ a, b }: ComparedControl): boolean {
  return a === undefined || b === undefined || a.label !== b.label;
}

/** How many differences there are; 0: the two say the same. */
export function countDifferences(comparison: Comparison): number {
  const { settings, lone, facts, controls, cannot } = comparison;
  return (
    settings.filter(({ agree }) => agree !== true).length +
    lone.length +
    facts.length +
    controls.filter(controlDiffers).length +
    cannot.length
  );
}
