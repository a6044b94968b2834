import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Span } from '../text/span.ts';
import type { CardPath } from './paths.ts';
import type { Decision, Origin, Resolved, ScopePoint } from './resolved.ts';

/** Text that a key is to hold, or its removal. Mirrors the syntax's value, so that phases share plain data. */
export type KeyText =
  | { readonly kind: 'scalar'; readonly text: string; readonly literal?: boolean }
  | { readonly kind: 'list'; readonly items: readonly { readonly text: string; readonly literal?: boolean }[] };

/** A field of a repeated element, found by what another field holds. */
export interface RecordTarget {
  /** Path of the repeated elements. */
  readonly at: string;
  readonly by: string;
  readonly is: string;
  readonly field: string;
  /** Fields that a new record is given, and that a known one must agree with where it has them. */
  readonly identity: ReadonlyMap<string, KeyText>;
  /** Fields that a new record is given, and that a known one keeps as it has them. */
  readonly fresh?: ReadonlyMap<string, KeyText>;
  /** A value that is undefined takes out the whole record, not the field alone. */
  readonly whole?: boolean;
}

/** One key, in one file, to be given one value, with everything that `explain` tells of it. */
export interface Edit {
  readonly instance: string;
  readonly file: string;
  readonly path: CardPath;
  readonly key: string;
  /** Undefined: the key is to be removed. */
  readonly value: KeyText | undefined;
  /** Present where the key is a field of a repeated element; `key` then only shows it. */
  readonly record?: RecordTarget;
  /** `extra` for a raw key. */
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  readonly origin: Origin;
  /** Absent for raw keys, which no dialect line spells. */
  readonly decision?: Decision;
  readonly dialectPlace?: Place;
  readonly rule: { readonly name: string; readonly says: string };
  /** Takes out a mark that was made on the card since it was written: to be told, and kept like any hand change. */
  readonly byHand?: true;
}

/** A file that is wholly ours, made from a template. */
export interface WholeFile {
  readonly instance: string;
  readonly file: string;
  readonly path: CardPath;
  readonly text: string;
  /**
   * Where secrets that are only named stand in the text, in order. `network`: not the secret, but the key derived from
   * it and this network's name is to stand there.
   */
  readonly secrets?: readonly {
    readonly start: number;
    readonly end: number;
    readonly name: string;
    readonly network?: string;
  }[];
  readonly mode: number | undefined;
  readonly owner: string | undefined;
  /** Of the first setting that is in it. */
  readonly origin: Origin;
  readonly setting: string;
  /** All settings that are in it. */
  readonly decisions: readonly Decision[];
  readonly dialectPlace: Place;
  readonly rule: { readonly name: string; readonly says: string };
}

export type Fidelity =
  | { readonly kind: 'exact' }
  | { readonly kind: 'approximated'; readonly how: string }
  /** `code`: of the finding that it deserves, where the lens says so. */
  | { readonly kind: 'cannot'; readonly why: string; readonly code?: Code };

/** One cell of the fidelity table. */
export interface FidelityEntry {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  readonly fidelity: Fidelity;
  readonly decision: Decision;
}

export interface Compiled {
  readonly resolved: Resolved;
  readonly edits: readonly Edit[];
  readonly wholeFiles: readonly WholeFile[];
  readonly fidelity: readonly FidelityEntry[];
}

/** One emitted file: what stood there, what stands there now, and which edit each changed key is of. */
export interface BuiltFile {
  readonly path: CardPath;
  readonly instances: readonly string[];
  /** Undefined: there was none. */
  readonly base: SourceText | undefined;
  readonly text: string;
  readonly mode: number | undefined;
  readonly keys: readonly BuiltKey[];
  /** What was written into the base text, as places in the new text; where something was only taken out, empty. */
  readonly changes: readonly Span[];
  /** Set for a file that is wholly ours. */
  readonly whole: WholeFile | undefined;
}

export interface BuiltKey {
  readonly edit: Edit;
  /** In the new text; undefined for a removed key, and of a field taken out of a record, the one that names it. */
  readonly span: Span | undefined;
  /** Whether this build changed the key's text, or it held that value already. */
  readonly changed: boolean;
}

export interface Built {
  readonly compiled: Compiled;
  /** Sorted by path. */
  readonly files: readonly BuiltFile[];
  readonly findings: readonly Finding[];
}
