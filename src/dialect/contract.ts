import type { Place } from '../text/place.ts';
import type { DialectDocument } from '../model/document.ts';
import type { DeviceControls, Numbering, Part } from '../model/device.ts';
import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { SyntaxValue } from '../syntax/contract.ts';
import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { Scope } from '../vocabulary/types.ts';
import type { Code } from '../diagnostics/catalogue.ts';

export type { ScopePoint };

/** All that a spelling may depend on: device, instance, frontend version. Fixed for one instance. */
export interface Context {
  readonly dialect: DialectDocument;
  readonly device: { readonly id: string; readonly name: string };
  readonly instance: string;
  /** `part:folder`. */
  readonly root: string;
  /** The frontend's version; undefined when unknown. */
  readonly version: string | undefined;
  readonly parts: ReadonlyMap<string, Part>;
  readonly controls: DeviceControls;
  /** The instance's own numbering, over the dialect's. */
  readonly numbering: Numbering | undefined;
  /** The resolved hold control of this instance. */
  readonly hold: Position | undefined;
  readonly catalog: CatalogWritten | undefined;
}

/** How a key came to hold its text: a word for the codec and a phrase for people ('number in ms, rounded to 1'). */
export interface Rule {
  readonly name: string;
  readonly says: string;
}

/** One key to be given one value (or removed), where, and by which line of the dialect. */
export interface KeyWrite {
  /** File id in the dialect. */
  readonly file: string;
  readonly path: CardPath;
  /** In the key language of the file's syntax. */
  readonly key: string;
  /** Undefined: the key is to be removed. */
  readonly value: SyntaxValue | undefined;
  readonly dialectPlace: Place;
  readonly rule: Rule;
}

export type Spelled =
  | { readonly kind: 'exact'; readonly writes: readonly KeyWrite[] }
  /** `how`: 'becomes 10 s, 0.5 s less'. */
  | { readonly kind: 'approximated'; readonly writes: readonly KeyWrite[]; readonly how: string }
  /** `why` is a clause: 'the dialect has no spelling for 4 x'. `code` names the finding it deserves. */
  | { readonly kind: 'cannot'; readonly why: string; readonly code: Code; readonly place?: Place };

export type ReadBack =
  | { readonly kind: 'value'; readonly value: Value }
  | { readonly kind: 'absent' }
  /** No value of the setting spells these keys; offered as `extra`. */
  | { readonly kind: 'unreadable'; readonly keys: readonly { readonly file: string; readonly key: string; readonly text: string }[] }
  /** Several writes that must agree do not. */
  | { readonly kind: 'half-changed'; readonly keys: readonly { readonly file: string; readonly key: string }[] };

/** What stands in the files: the value of a key, or undefined. */
export type KeyLookup = (path: CardPath, key: string) => SyntaxValue | undefined;

/** The lens of one dialect: settings to keys and back. Pure; made once for each instance. */
export interface Lens {
  /** Setting ids that the dialect spells at this frontend version. */
  settings(): readonly string[];
  /** Scopes at which the setting can be said; empty when it cannot be said at all. */
  scopes(setting: string): readonly Scope[];
  /** Values to keys at one scope. `item` names the option of an options setting. */
  spell(setting: string, value: Value, scope: ScopePoint, item?: string): Spelled;
  /**
   * Keys to a value: `current` if spelling it gives these keys, else the simplest value that spells exactly these.
   * An instance's hotkeys are read against `context.hold`.
   */
  read(setting: string, scope: ScopePoint, look: KeyLookup, current?: Value, item?: string): ReadBack;
  /** Every (file id, path) of the dialect at one scope point, files of other scopes left out. */
  path(file: string, scope: ScopePoint, item?: Readonly<Record<string, string>>): CardPath | undefined;
}
