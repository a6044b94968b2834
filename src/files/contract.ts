import type { HostPath } from '../model/paths.ts';

export type EntryKind = 'file' | 'folder' | 'link' | 'other';

export type ReadResult =
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'absent' }
  /** A folder, device or pipe where a file is meant. */
  | { readonly kind: 'not-a-file'; readonly is: EntryKind }
  | { readonly kind: 'too-large'; readonly bytes: number }
  | { readonly kind: 'failed'; readonly why: string };

export type WriteResult = { readonly kind: 'done' } | { readonly kind: 'failed'; readonly why: string };

/** The disk, behind one small interface. Synchronous: one process, small files, and the fastest start. Never throws. */
export interface Files {
  /** Follows links. `limit` in bytes; a larger file is not read. */
  read(path: HostPath, limit?: number): ReadResult;
  /** What the path itself is, links not followed; undefined when it is not there. */
  kind(path: HostPath): EntryKind | undefined;
  /** Names in a folder with their kinds, sorted by code point; undefined when it cannot be listed. */
  list(path: HostPath): readonly { readonly name: string; readonly kind: EntryKind }[] | undefined;
  /** The path with every link resolved; undefined when it is not there. */
  real(path: HostPath): HostPath | undefined;
  /**
   * Who may do what with a file, as in chmod (0o600), links followed. Undefined when it is not there. Absent, or
   * undefined, where the system has no such modes.
   */
  mode?(path: HostPath): number | undefined;
  /** Bytes of a file, links followed; undefined when it is not there. Absent where nobody counts them. */
  size?(path: HostPath): number | undefined;
  /** Writes beside, then renames over; makes missing parents. `mode` as in chmod, where the file system has modes. */
  write(path: HostPath, bytes: Uint8Array, mode?: number): WriteResult;
  remove(path: HostPath): WriteResult;
  join(folder: HostPath, ...members: readonly string[]): HostPath;
}
