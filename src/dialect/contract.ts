import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { DialectDocument } from '../model/document.ts';
import type { DeviceControls, Numbering, Part } from '../model/device.ts';
import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { RecordTarget } from '../model/compiled.ts';
import type { RecordPlace, SyntaxValue } from '../syntax/contract.ts';
import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { SecretPlace } from './template/template.ts';
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
  /** Word size of the instance, for `{{instance.bits}}`. */
  readonly bits?: 32 | 64 | undefined;
  /** Every instance of the device by name: what a menu says of the one that runs a core. */
  readonly instances?: ReadonlyMap<string, InstanceFacts>;
  /** The dialect's template files by the name in `template:`. Absent: none could be read. */
  readonly templates?: ReadonlyMap<string, SourceText>;
  /** The text of a secret, for what goes onto a card. Absent, or undefined: `<secret:NAME>` stands for it. */
  readonly secretValue?: (name: string) => string | undefined;
}

/** What a menu may say of an instance that runs a core. */
export interface InstanceFacts {
  readonly dialect: string;
  readonly bits?: 32 | 64 | undefined;
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
  /** Present where the key is a field of a repeated element; `key` then only shows it. */
  readonly record?: RecordTarget;
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
  | {
      readonly kind: 'unreadable';
      readonly keys: readonly { readonly file: string; readonly key: string; readonly text: string }[];
    }
  /** Several writes that must agree do not. */
  | { readonly kind: 'half-changed'; readonly keys: readonly { readonly file: string; readonly key: string }[] };

/** What stands in the files: the value of a key, or undefined. */
export type KeyLookup = (path: CardPath, key: string) => SyntaxValue | undefined;

/** The records that stand below `at` in a file, with those of the fields that they have. */
export type RecordLookup = (
  file: string,
  path: CardPath,
  at: string,
  fields: readonly string[],
) => readonly RecordPlace[];

/** The paths of all keys of a file, in file order. */
export type KeyPaths = (file: string, path: CardPath) => readonly string[];

/** The value of each setting at one scope point; undefined: left alone. */
export type ValueLookup = (setting: string) => Value | undefined;

/** A key made from several settings (`computed`). */
export interface ComputedSpelling {
  /** The settings that it is made from. */
  readonly settings: readonly string[];
  readonly spelled: Spelled;
}

/** A file that is wholly ours, made from a template; or why it cannot be made. */
export interface WholeSpelling {
  readonly file: string;
  /** The settings whose values are in it. */
  readonly settings: readonly string[];
  readonly made:
    | {
        readonly kind: 'text';
        readonly path: CardPath;
        readonly text: string;
        /** Where secrets that are only named stand in it. */
        readonly secrets?: readonly SecretPlace[];
        /** Octal mode as a number, as in 0o600. */
        readonly mode: number | undefined;
        readonly owner: string | undefined;
      }
    | { readonly kind: 'cannot'; readonly why: string; readonly code: Code };
  readonly dialectPlace: Place;
  readonly rule: Rule;
}

/** The lens of one dialect: settings to keys and back. Pure; made once for each instance. */
export interface Lens {
  /** Setting ids that the dialect spells at this frontend version, by a key, a `computed` key or a template file. */
  settings(): readonly string[];
  /** Scopes at which the setting can be said; empty when it cannot be said at all. */
  scopes(setting: string): readonly Scope[];
  /**
   * Values to keys at one scope. `item` names the option of an options setting. No writes: the value is said by
   * `computed`, `wholeFiles`, or (the hold of `hold: each`) within other keys.
   */
  spell(setting: string, value: Value, scope: ScopePoint, item?: string): Spelled;
  /**
   * Keys to a value: `current` if spelling it gives these keys, else the simplest value that spells exactly these.
   * An instance's hotkeys are read against `context.hold`.
   */
  read(setting: string, scope: ScopePoint, look: KeyLookup, current?: Value, item?: string): ReadBack;
  /**
   * A setting that is said in records (`item`: the name of a list), read back; absent for any other. `current` if
   * spelling it marks exactly the records that are marked; else what they say, in file order. Records of games that
   * the dialect could not have written are passed over. An empty list: the field stands, and is on nowhere.
   */
  readRecords(setting: string, list: RecordLookup, item?: string, current?: Value): ReadBack;
  /** The names of the lists that records are in: what to ask `readRecords` for as `item`. Empty for other settings. */
  recordItems(setting: string, list: RecordLookup, keys: KeyPaths): readonly string[];
  /** The names of a core's options that its files have: what to ask `read` for as `item`. Empty for other settings. */
  optionItems(setting: string, point: ScopePoint, keys: KeyPaths): readonly string[];
  /**
   * Records that say the setting of games (or systems) that the value does not list: what takes it from them. With
   * `spell`, this makes the value the whole list. Never names a record that `readRecords` passes over. `also`: of the
   * records that are not listed and do not say it, those that are told all the same.
   */
  unlisted(
    setting: string,
    value: Value,
    list: RecordLookup,
    item?: string,
    also?: (write: KeyWrite) => boolean,
  ): readonly KeyWrite[];
  /** Keys made from several settings, at one scope point: none whose settings are all left alone. */
  computed(values: ValueLookup, scope: ScopePoint): readonly ComputedSpelling[];
  /** Files made from templates, at one scope point: none whose settings are all left alone. */
  wholeFiles(values: ValueLookup, scope: ScopePoint): readonly WholeSpelling[];
  /** Every (file id, path) of the dialect at one scope point, files of other scopes left out. */
  path(file: string, scope: ScopePoint, item?: Readonly<Record<string, string>>): CardPath | undefined;
}
