import type { HostPath } from '../model/paths.ts';
import type { EntryKind } from './contract.ts';

/** Why the disk refused, as far as what is done next hangs on it. */
export type DiskTrouble =
  | 'absent'
  | 'exists'
  | 'not-empty'
  | 'no-space'
  | 'read-only'
  | 'denied'
  /** The device itself failed, or is gone. */
  | 'failed'
  | 'other';

export interface DiskFailure {
  readonly kind: 'failed';
  readonly trouble: DiskTrouble;
  /** The system's reason in short words, with no path. */
  readonly why: string;
}

export type DiskResult = { readonly kind: 'done' } | DiskFailure;

export type DiskRead = { readonly kind: 'bytes'; readonly bytes: Uint8Array } | DiskFailure;

/** What stands at a path, links not followed. */
export interface DiskEntry {
  readonly kind: EntryKind;
  /** Bytes; of a folder, what its entries take where the file system says so. */
  readonly size: number;
  /** As in chmod: 0o600. Made up by the driver where the file system keeps none. */
  readonly mode: number;
  readonly uid: number;
  readonly gid: number;
  /** Milliseconds since 1970; two seconds apart on FAT. */
  readonly mtime: number;
  /** The same for all that lies on one mounted file system. */
  readonly volume: number;
}

export type DiskStat = { readonly kind: 'entry'; readonly entry: DiskEntry } | DiskFailure;

/** Who owns a new file and who may do what with it; what is left out is the system's default. */
export interface Ownership {
  readonly mode?: number;
  readonly uid?: number;
  readonly gid?: number;
}

/** `kept`: the file has the mode and owner that were asked for, as read back; false on a file system without them. */
export type DiskWritten = { readonly kind: 'done'; readonly kept: boolean } | DiskFailure;

/** `fat` is FAT12, 16 and 32. `other` keeps its folders in ways that are not counted. */
export type FileSystemKind = 'fat' | 'exfat' | 'other';

export interface DiskSpace {
  readonly kind: 'space';
  /** Bytes that this process may still use. */
  readonly free: number;
  /** Bytes that are given out at a time. */
  readonly cluster: number;
  readonly fileSystem: FileSystemKind;
}

/**
 * The disk in the steps that a safe write needs, each one lasting or failing by itself. Synchronous; never throws.
 * A path's last member is not followed when it is a link, except by `read` and `real`.
 */
export interface Disk {
  read(path: HostPath): DiskRead;
  stat(path: HostPath): DiskStat;
  /** Names, sorted by code point. */
  list(path: HostPath): { readonly kind: 'names'; readonly names: readonly string[] } | DiskFailure;
  /** The path with every link resolved. */
  real(path: HostPath): { readonly kind: 'path'; readonly path: HostPath } | DiskFailure;
  /**
   * A file that is not there yet (else `exists`): filled, given its mode and owner, flushed to the medium, closed. With a
   * mode asked for, nobody else can read it before it has that mode. A failure may leave part of it behind.
   */
  writeNew(path: HostPath, bytes: Uint8Array, ownership: Ownership): DiskWritten;
  /** Over whatever file stands at `to`. Both in one folder. */
  rename(from: HostPath, to: HostPath): DiskResult;
  remove(path: HostPath): DiskResult;
  /** One folder, whose parent is there. An owner or mode that cannot be given is let be. */
  makeFolder(path: HostPath, ownership: Ownership): DiskResult;
  /** Only an empty one. */
  removeFolder(path: HostPath): DiskResult;
  /** Makes what was done to a folder's names last. Where a system cannot, it is done. */
  syncFolder(path: HostPath): DiskResult;
  space(folder: HostPath): DiskSpace | DiskFailure;
  join(folder: HostPath, ...members: readonly string[]): HostPath;
}
