import type { Code } from '../../diagnostics/catalogue.ts';
import type { Outcome } from '../../diagnostics/finding.ts';
import type { DialectDocument, Path } from '../../model/document.ts';
import type { ScopePoint } from '../../model/resolved.ts';
import type { Value } from '../../model/value.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { Place } from '../../text/place.ts';
import type { CodecsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { SettingDefinition, ValueType } from '../../vocabulary/types.ts';
import type { Context, Rule } from '../contract.ts';
import type { Renames } from '../moved.ts';
import type { NameLookup } from '../template/template.ts';

export type CodecName = keyof CodecsWritten;

/**
 * What the keys of one write hold, by slot. A codec with one key has the slot `''`; control has one for each form
 * (button, axis, hat, text); members one for each word. Slots that are not named are not in use.
 */
export type Slots = ReadonlyMap<string, SyntaxValue>;

export interface Cannot {
  readonly kind: 'cannot';
  /** A clause: 'the dialect has no spelling for 4 x'. */
  readonly why: string;
  readonly code: Code;
}

export type Told =
  | { readonly kind: 'exact'; readonly slots: Slots }
  | { readonly kind: 'approximated'; readonly slots: Slots; readonly how: string }
  | Cannot;

/** Where a value is said: the device and instance, what it is narrowed to, the names that hold there. */
export interface Moment {
  readonly context: Context;
  readonly point: ScopePoint;
  readonly setting: SettingDefinition;
  readonly names: NameLookup;
  readonly renames: Renames;
}

/** Where a codec is written. Made without a device: what is wrong here is wrong for everyone. */
export interface Site {
  readonly document: DialectDocument;
  /** Of the codec's own member. */
  readonly path: Path;
  readonly place: Place;
  readonly setting: SettingDefinition;
  /** Whether the entry gives a key. Without one the codec has a key of its own, or keys by slot. */
  readonly keyed: boolean;
  /**
   * Forms of control (button, axis, hat) that the key map has a key for, by the `while` of the hotkey; none: no key for
   * that `while`. Undefined: the key is one for all forms.
   */
  readonly forms: ((manner: 'held' | 'toggled' | 'press' | undefined) => ReadonlySet<string>) | undefined;
}

/** Values to texts and back. Pure, and made once for each entry of the dialect. */
export interface Codec {
  readonly rule: Rule;
  /** Held by the keys of a map that are not in use; undefined: they are removed. */
  readonly nothing: SyntaxValue | undefined;
  /** The key, where the entry gives none and the device determines it. */
  ownKey?(context: Context): string | Cannot;
  /** What is written. */
  spell(value: Value, at: Moment): Told;
  /** Further spellings of the very same value, read but not written. */
  others(value: Value, at: Moment): readonly Slots[];
  /** Whether a program that holds the one text means the other. */
  same(held: SyntaxValue, said: SyntaxValue): boolean;
  /** Values that the texts may stand for, simplest first. The lens takes the first that spells exactly these. */
  candidates(held: Slots, at: Moment): readonly Value[];
}

/** One kind of codec: the member of an entry that asks for it, and how to make it. */
export interface CodecKind<N extends CodecName = CodecName> {
  readonly name: N;
  /** Kinds of setting whose values it can say. */
  readonly fits: readonly ValueType['kind'][];
  make(written: NonNullable<CodecsWritten[N]>, site: Site): Outcome<Codec | undefined>;
}
