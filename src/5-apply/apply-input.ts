import type { KeyText, RecordTarget } from '../model/compiled.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Fingerprint } from '../model/fingerprint.ts';
import type { Disk } from '../files/disk.ts';
import type { Style, SyntaxName } from '../syntax/contract.ts';

/** One key that a write changes: what `undo` takes back where the rest of the file is no longer as we wrote it. */
export interface KeyChange {
  readonly key: string;
  readonly record?: Pick<RecordTarget, 'at' | 'by' | 'is' | 'field'>;
  /** Undefined: the key was not there. */
  readonly before: KeyText | undefined;
  /** Undefined: the key was taken out. */
  readonly after: KeyText | undefined;
}

/** One file to be put on the card, or taken off it. */
export interface Work {
  readonly path: CardPath;
  /** What the plan saw; undefined: no file. */
  readonly expected: Fingerprint | undefined;
  /** Undefined: the file is removed. */
  readonly content: Uint8Array | undefined;
  /** Undefined: as the file has it, or the system's default for a new one. */
  readonly mode?: number | undefined;
  /** `root`, or a number. */
  readonly owner?: string | undefined;
  /** Absent for a file that is wholly ours. */
  readonly keys?: {
    readonly syntax: SyntaxName;
    readonly style: Style;
    readonly changes: readonly KeyChange[];
  };
}

/** One card, and where what is kept of it lies. */
export interface CardPlace {
  readonly disk: Disk;
  /** The card's folder in the private part of the workspace. Made when missing, for its owner only. */
  readonly store: HostPath;
  /** Where each part that can be reached is mounted. */
  readonly parts: ReadonlyMap<string, HostPath>;
  /** The committed record of the card. */
  readonly record: HostPath;
  /** Clock of the shell, as text to show. */
  readonly stamp: string;
  /** Of this process. */
  readonly pid: number;
  readonly isAlive: (pid: number) => boolean;
  /** What the person types to go on, whole commands. */
  readonly commands: { readonly write: string; readonly undo: string };
}

export interface ApplyInput extends CardPlace {
  readonly works: readonly Work[];
  /** Text of the record as it will stand. */
  readonly recordText: string;
  /** As the plan made its fingerprints: SHA-256 in hex, by the private key where `keyed`. */
  readonly fingerprint: (bytes: Uint8Array, keyed: boolean) => string;
  /** Texts in the backup store that a record still needs, beyond the writes that are kept. */
  readonly needed?: readonly Fingerprint[];
}
