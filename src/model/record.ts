import type { FileWritten, StyleWritten } from '../vocabulary/shapes/dialect.ts';
import type { KeyText, RecordTarget } from './compiled.ts';
import type { Fingerprint } from './fingerprint.ts';
import type { CardPath } from './paths.ts';
import type { ScopePoint } from './resolved.ts';

/** What a key held: its text, nothing at all, or (where a secret is in it) the keyed hash of its text. */
export type Held =
  | { readonly kind: 'text'; readonly value: KeyText }
  | { readonly kind: 'absent' }
  | { readonly kind: 'hashed'; readonly hash: string }
  /** Only within a plan: holds `<secret:NAME>` for the secrets named, and is hashed when the plan is applied. */
  | { readonly kind: 'to-hash'; readonly value: KeyText; readonly secrets: readonly string[] };

/** What the person answered to a hand change, kept until the key, or what the profile says of it, changes again. */
export type Answer =
  /** The card's value stays, as long as it is this one and the profile still says what it said then. */
  | { readonly kind: 'keep-card'; readonly card: Held; readonly profile: Held }
  /** The key is the person's own from now on. */
  | { readonly kind: 'let-alone' };

/** One key that is ours on a card. */
export interface RecordedKey {
  readonly instance: string;
  /** File id in the dialect. */
  readonly file: string;
  /** In the key language of the file's syntax. */
  readonly key: string;
  readonly record?: RecordTarget;
  /** `extra` for a raw key. */
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  /** What stood there before we first wrote it. */
  readonly before: Held;
  /** What we last wrote; undefined where it is only let alone. */
  readonly written: Held;
  /** What the card had at the last write, where that was left as it was: what is so still is no news of an update. */
  readonly kept?: Held;
  readonly answer?: Answer;
}

/** One file of a card in which we own keys, or the whole. */
export interface RecordedFile {
  readonly path: CardPath;
  readonly syntax: FileWritten['syntax'];
  readonly style: StyleWritten | undefined;
  /** Hash (SHA-256, hex) of the stock text that was known when it was last written. */
  readonly stock: string | undefined;
  /** There was no file before us. */
  readonly made?: true;
  /** Sorted by key. */
  readonly keys: readonly RecordedKey[];
  /** Set for a file that is wholly ours. */
  readonly whole: RecordedWhole | undefined;
}

export interface RecordedWhole {
  readonly instance: string;
  readonly file: string;
  readonly setting: string;
  /**
   * Of the text that stood there before us, which the backup store has. Undefined: there was none. Keyed, since it may
   * hold passwords that could else be guessed; records of older versions have plain ones.
   */
  readonly before: Fingerprint | undefined;
  /** Of what we wrote; keyed where a secret is in it. In a plan, `hash` is then empty until it is settled. */
  readonly written: Fingerprint;
  /** Of the whole text, always by its keyed hash. */
  readonly answer?: Answer;
}

/** Which frontend stood on the card when it was last written. */
export interface RecordedInstance {
  readonly dialect: string;
  readonly dialectVersion: string;
  /** Frontend version; undefined when unknown. */
  readonly version: string | undefined;
  /**
   * Lists that were written empty and of which no key tells, as `games.favourites` or `games.lists NAME`, sorted: what
   * is marked since was marked by hand, or in play.
   */
  readonly emptyLists?: readonly string[];
}

/** What we own on one card: plain text beside the profiles, made to be committed. */
export interface CardRecord {
  /** The id that the card itself carries. */
  readonly card: string;
  readonly device: string;
  /** `pending`: handed to the device as a bundle, and not known to be done. */
  readonly state: 'written' | 'pending';
  readonly instances: ReadonlyMap<string, RecordedInstance>;
  /** Sorted by path. */
  readonly files: readonly RecordedFile[];
}
