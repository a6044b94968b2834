import type { FileWritten, StyleWritten } from '../vocabulary/shapes/dialect.ts';
import type { KeyText, RecordTarget } from './compiled.ts';
import type { Fingerprint } from './fingerprint.ts';
import type { CardPath } from './paths.ts';
import type { CardRecord } from './record.ts';
import type { ScopePoint } from './resolved.ts';

/** What became of one key since we last wrote it, or is to become of it now. */
export type KeyClass =
  /** The card says what the profile says, in whatever spelling. */
  | 'same'
  /** Not ours before. */
  | 'first-time'
  /** The card is as we left it; the profile says something else now. */
  | 'profile-changed'
  /** An update took it back to stock: written again. */
  | 'reset'
  /** Someone changed it on the device, or it cannot be told from that: kept. */
  | 'changed-by-hand'
  /** By hand, and in the profile: kept, until the person says. */
  | 'both-changed'
  /** The setting has another key or file now. */
  | 'moved'
  /** The profile no longer sets it: what stood before us comes back. */
  | 'let-go'
  | 'key-gone'
  | 'file-gone'
  /** Rewritten in play (volume, brightness): never a hand change. */
  | 'volatile'
  /** The frontend swapped a password for something of its own. */
  | 'consumed'
  /** The person said: stop managing it. */
  | 'let-alone'
  /** A hand change that the person said is to stay. */
  | 'answered';

/** What a key holds, as it may be shown: a secret only by its name. */
export type Shown =
  | { readonly kind: 'text'; readonly value: KeyText }
  | { readonly kind: 'absent' }
  /** `names`: the profile's; none where it is the card's own. */
  | { readonly kind: 'secret'; readonly names: readonly string[] };

/** Where in the profile, its house or a package a value was written. */
export interface ShownOrigin {
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly layer: string;
}

export interface PlannedKey {
  readonly class: KeyClass;
  /** `write` includes taking the key out (`to` is absent). */
  readonly act: 'write' | 'keep' | 'none';
  readonly instance: string;
  readonly file: string;
  readonly key: string;
  readonly record?: RecordTarget;
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  /** What the card has. */
  readonly from: Shown;
  /** What the profile says, or what a key that is let go gets back. */
  readonly to: Shown;
  /** A clause for people: 'the card is as we left it'. */
  readonly why: string;
  readonly origin?: ShownOrigin;
  /** In the card's text; absent where the key is not there. */
  readonly cardLine?: number;
}

/** One change by key, in the syntax's own key language. Text of a secret is `<secret:NAME>`. */
export type PlannedChange =
  | { readonly op: 'set'; readonly key: string; readonly value: KeyText; readonly secrets: readonly string[] }
  | { readonly op: 'remove'; readonly key: string }
  | {
      readonly op: 'record';
      readonly target: RecordTarget;
      /** Undefined: the field is taken out. */
      readonly value: KeyText | undefined;
      readonly secrets: readonly string[];
    };

/** A piece of a file that is wholly ours. */
export type Piece =
  | { readonly kind: 'text'; readonly text: string }
  /** The secret, escaped for the format that the template writes; undefined: as it is. */
  | { readonly kind: 'secret'; readonly name: string; readonly escape: FileWritten['syntax'] | 'keyfile' | undefined }
  /** The key that is derived from a passphrase and a network's name (IEEE 802.11, PBKDF2). */
  | { readonly kind: 'psk'; readonly name: string; readonly network: string };

interface PlannedBase {
  readonly path: CardPath;
  readonly instances: readonly string[];
  /** Of the card's text when the plan was made; undefined: there was no file. */
  readonly before: Fingerprint | undefined;
  readonly keys: readonly PlannedKey[];
}

export type PlannedFile =
  | (PlannedBase & { readonly act: 'nothing' })
  | (PlannedBase & {
      readonly act: 'change';
      readonly syntax: FileWritten['syntax'];
      readonly style: StyleWritten | undefined;
      readonly changes: readonly PlannedChange[];
      /** For a file that is not there yet; octal as a number. */
      readonly mode: number | undefined;
      readonly owner: string | undefined;
      /** Bytes before and after: what the free space must hold. */
      readonly bytes: { readonly before: number; readonly after: number };
    })
  | (PlannedBase & {
      readonly act: 'whole';
      readonly pieces: readonly Piece[];
      readonly mode: number | undefined;
      readonly owner: string | undefined;
      readonly bytes: { readonly before: number; readonly after: number };
    })
  /** A file that was wholly ours and is let go, with nothing before us to bring back. */
  | (PlannedBase & { readonly act: 'remove' })
  /** The same, where the text that stood before us comes back out of the backup store. */
  | (PlannedBase & { readonly act: 'restore'; readonly backup: Fingerprint });

/** Something that could orphan, replace or make unreadable a save or state: it needs a yes of its own. */
export interface SaveRisk {
  readonly setting: string;
  readonly instance: string;
  readonly what: string;
  readonly origin?: ShownOrigin;
}

/** All that a write will do to one card: a document, and data that runs no code. */
export interface Plan {
  readonly device: string;
  /** Id that the card carries or will carry. */
  readonly card: string;
  /** Parts that the plan reaches, and which of them get the id file. */
  readonly parts: readonly { readonly name: string; readonly mark: boolean }[];
  /** Sorted by path. */
  readonly files: readonly PlannedFile[];
  readonly saveRisks: readonly SaveRisk[];
  /** The record as it will stand. */
  readonly record: CardRecord;
}
