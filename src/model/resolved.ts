import type { Place } from '../text/place.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { Role } from '../vocabulary/types.ts';
import type { CatalogDocument, DialectDocument, LayerDocument, Path } from './document.ts';
import type { DeviceControls, Numbering, Part } from './device.ts';
import type { CardPath } from './paths.ts';
import type { Value } from './value.ts';

/** What a value is for: the members present are what it is narrowed to; `game` goes with `system`. */
export interface ScopePoint {
  readonly core?: string;
  readonly system?: string;
  readonly game?: string;
}

/** Where a value was written. */
export interface Origin {
  readonly document: LayerDocument;
  readonly path: Path;
  readonly place: Place;
  /** For people: `house village-library`, `profile fen`, `profile fen, only for system burdock`. */
  readonly layer: string;
}

/** Selectors of an `only` block, each a list of alternatives; none: the whole device. */
export interface Selectors {
  readonly frontend?: readonly string[];
  readonly core?: readonly string[];
  readonly system?: readonly string[];
  readonly game?: readonly string[];
}

/** One value that some layer gives one setting, before it is known whether it wins. */
export interface Candidate {
  readonly setting: string;
  /** Of an options setting: which option. */
  readonly item?: string;
  readonly origin: Origin;
  readonly selectors: Selectors;
  /** The core or system that the place in the section names (`cores.choice.burdock`); matches, but does not rank. */
  readonly implied: ScopePoint;
  /** Compared member by member: narrowest selector, number of selectors, layer, order in the file. */
  readonly rank: readonly [number, number, number, number];
  readonly wish: Wish;
}

/** A value as written, understood, but not yet fitted to a device. */
export type Wish =
  | { readonly kind: 'value'; readonly value: Value }
  /** `null`: what lower layers set is cleared; the setting is left alone. */
  | { readonly kind: 'clear' }
  /** `missing`: controls that the device lacks, as written; an error where no wish is left and the line wins. */
  | { readonly kind: 'controls'; readonly wishes: readonly ControlWish[]; readonly missing: readonly string[] }
  | { readonly kind: 'binds'; readonly wishes: readonly BindWish[] }
  | { readonly kind: 'cores'; readonly wishes: readonly CoreWish[] };

/** `index`: among all that the line wishes for, with those that the device lacks. */
export type ControlWish = { readonly index: number; readonly place: Place } & (
  { readonly kind: 'none' } | { readonly kind: 'control'; readonly position: Position }
);

/** One way in which a hotkey may be pressed. `missing`: controls that the device lacks, as written. */
export interface BindWish {
  readonly press:
    | { readonly kind: 'none' }
    /** A control of it is not on the device (`missing` names it). */
    | { readonly kind: 'missing' }
    | { readonly kind: 'with-hold' | 'alone'; readonly position: Position }
    | { readonly kind: 'chord'; readonly positions: readonly Position[] };
  readonly while: 'held' | 'toggled' | 'press';
  readonly ifPresent: boolean;
  readonly missing: readonly string[];
  readonly place: Place;
}

export interface CoreWish {
  readonly core: string;
  /** Only on this instance; any in file order when absent. */
  readonly instance?: string;
  readonly place: Place;
}

/** One wanted thing that was passed over, and why, in words. */
export interface Rejected {
  readonly what: string;
  readonly why: string;
  readonly place: Place;
}

/** What one instance is to hold for one setting at one scope point, with all that lost. */
export interface Decision {
  readonly setting: string;
  readonly item?: string;
  readonly value: Value;
  readonly origin: Origin;
  /** Best first. */
  readonly losers: readonly Candidate[];
  readonly rejected: readonly Rejected[];
}

/** Why a line does not speak to an instance at a scope point: what it is narrowed to, or the cores that are lacking. */
export type Unreached =
  | { readonly by: 'frontend' | 'core' | 'system' | 'game'; readonly only: readonly string[] }
  /** The instance lists its cores, and none of them is one that the line is about. */
  | { readonly by: 'installed' };

/** One line that says something of a setting, as it was weighed for one instance and scope point. */
export interface Weighed {
  readonly candidate: Candidate;
  /** Undefined: it speaks to them. */
  readonly unreached: Unreached | undefined;
}

/** How a decision came about, or why none did. */
export interface Account {
  /** Every line that says something of the setting, best first: the first that is not unreached has the say. */
  readonly lines: readonly Weighed[];
  readonly decision: Decision | undefined;
  /** What that line wishes for and was passed over, with or without a decision. */
  readonly rejected: readonly Rejected[];
}

/** One installed frontend, or the operating system (named `os`). */
export interface Instance {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly dialect: DialectDocument;
  /** Undefined when unknown. */
  readonly version: string | undefined;
  readonly root: CardPath;
  readonly bits: 32 | 64 | undefined;
  /** Installed cores with their versions; undefined when the profile does not say. */
  readonly cores: ReadonlyMap<string, string> | undefined;
  readonly numbering: Numbering | undefined;
  readonly place: Place;
}

export interface ReservedChord {
  readonly positions: readonly Position[];
  readonly does: string;
  readonly loses: readonly string[];
  readonly place: Place;
}

export interface Device {
  readonly id: string;
  readonly name: string;
  readonly body: 'upright' | 'wide' | 'folding' | undefined;
  readonly hands: Readonly<Record<string, string>>;
  readonly performance: number | undefined;
  readonly wifi: 'none' | 'adapter' | 'built-in' | undefined;
  readonly parts: ReadonlyMap<string, Part>;
  readonly controls: DeviceControls;
  readonly reserved: readonly ReservedChord[];
}

/** Findings that a profile says are intended. */
export interface Allowance {
  readonly finding: string;
  readonly reach: readonly string[] | undefined;
  readonly because: string;
  readonly place: Place;
}

export interface ExtraKey {
  readonly instance: string;
  readonly file: string;
  readonly key: string;
  readonly text: string;
  readonly origin: Origin;
}

/** One profile with every layer applied. */
export interface Resolved {
  readonly profile: LayerDocument;
  /** Lowest first, the profile last. */
  readonly layers: readonly LayerDocument[];
  readonly device: Device;
  /** Every name under `frontends` (and `os`), those without a usable dialect or root too. */
  readonly frontends: readonly string[];
  /** In file order, `os` first; those that can be compiled. */
  readonly instances: readonly Instance[];
  readonly catalog: CatalogDocument | undefined;
  readonly candidates: readonly Candidate[];
  /** The hold control by instance, where the profile sets one. */
  readonly holds: ReadonlyMap<string, Position>;
  readonly extra: readonly ExtraKey[];
  readonly allow: readonly Allowance[];
  /** The core that runs each system on the device as a whole (what a menu is told). */
  readonly chosenCores: ReadonlyMap<string, Decision>;
  /** What the instance is to hold; undefined where no layer says anything (left alone). */
  decide(instance: Instance, setting: string, point: ScopePoint, item?: string): Decision | undefined;
  /** The same with all that was weighed. */
  account(instance: Instance, setting: string, point: ScopePoint, item?: string): Account;
  /** Points that the layers tell apart for a setting on an instance; absent members mean 'any other'. */
  points(instance: Instance, setting: string, item?: string): readonly ScopePoint[];
  /** Items (option names) that the layers give for an options setting on an instance, else one undefined. */
  items(instance: Instance, setting: string): readonly (string | undefined)[];
}
