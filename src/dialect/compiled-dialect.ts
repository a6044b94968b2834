import type { Finding } from '../diagnostics/finding.ts';
import type { DialectDocument, Path } from '../model/document.ts';
import type { Place } from '../text/place.ts';
import type { DialectWritten, FileWritten } from '../vocabulary/shapes/dialect.ts';
import type { Scope } from '../vocabulary/types.ts';
import type { Codec } from './codecs/contract.ts';
import type { KeyEntry } from './key-map.ts';
import type { Template } from './template/template.ts';

export interface CompiledFile {
  readonly id: string;
  readonly written: FileWritten;
  readonly path: Template;
  readonly place: Place;
}

/** One key of a write, with its template. */
export interface CompiledKey extends Omit<KeyEntry, 'text'> {
  readonly template: Template;
}

/** One codec and the keys it writes. */
export interface CompiledWrite {
  /** The member names from the top of the dialect. */
  readonly path: Path;
  readonly place: Place;
  readonly files: ReadonlyMap<Scope, CompiledFile>;
  readonly keys: readonly CompiledKey[];
  readonly codec: Codec;
  readonly as: 'string' | 'number' | 'boolean' | undefined;
  /** Whether the keys or the codec tell held from toggled. */
  readonly tellsWhile: boolean;
}

/** One way to say a setting: by frontend version, at some scopes, in one or several writes that must agree. */
export interface CompiledEntry {
  readonly place: Place;
  readonly versions: string | undefined;
  readonly scopes: readonly Scope[];
  readonly writes: readonly CompiledWrite[];
  /** Set where the setting is said in a file made from a template; there are no writes then. */
  readonly templateFile: CompiledFile | undefined;
}

export interface CompiledComputed {
  readonly place: Place;
  readonly written: NonNullable<DialectWritten['computed']>[number];
  readonly file: CompiledFile;
  readonly scope: Scope;
  readonly key: Template;
  readonly text: Template;
}

/** Repeated elements that say a setting: how a record is found, and what is set in it. */
export interface CompiledRecords {
  readonly kind: 'favourites' | 'hidden' | 'lists' | 'hidden-systems';
  /** The member names from the top of the dialect. */
  readonly origin: Path;
  readonly place: Place;
  readonly versions: string | undefined;
  readonly file: CompiledFile;
  readonly at: Template;
  /** The field that finds a record, and what it holds. */
  readonly by: string;
  readonly is: Template;
  /** The field that is set. */
  readonly field: Template;
  /** The field that holds the system of a game, and what it holds. */
  readonly system: { readonly field: string; readonly is: Template } | undefined;
  readonly on: string;
  readonly off: RecordOff;
  /** Fields that a new record is given besides. */
  readonly fresh: readonly { readonly field: string; readonly is: Template }[];
}

/** What becomes of a record that says a setting of a game which the profile does not list. */
export type RecordOff =
  { readonly kind: 'text'; readonly text: string } | { readonly kind: 'field-out' } | { readonly kind: 'record-out' };

/** A dialect made ready, for every frontend version and device. What is broken is left out, and has its finding. */
export interface CompiledDialect {
  readonly document: DialectDocument;
  readonly files: ReadonlyMap<string, CompiledFile>;
  readonly entries: ReadonlyMap<string, readonly CompiledEntry[]>;
  readonly computed: readonly CompiledComputed[];
  /** By setting. */
  readonly records: ReadonlyMap<string, readonly CompiledRecords[]>;
  readonly findings: readonly Finding[];
}
