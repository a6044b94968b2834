import {
  closeSync,
  fchmodSync,
  fchownSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmdirSync,
  statfsSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import type { Stats } from 'node:fs';
import { join } from 'node:path';
import { hostPath } from '../model/paths.ts';
import type { EntryKind } from './contract.ts';
import type { Disk, DiskFailure, DiskResult, DiskTrouble, FileSystemKind, Ownership } from './disk.ts';

const troubles: Readonly<Record<string, readonly [DiskTrouble, string]>> = {
  ENOENT: ['absent', 'it is not there'],
  ENOTDIR: ['absent', 'a file stands where a folder is needed'],
  EEXIST: ['exists', 'it is there already'],
  ENOTEMPTY: ['not-empty', 'the folder is not empty'],
  ENOSPC: ['no-space', 'no space is left'],
  EDQUOT: ['no-space', 'the quota is used up'],
  EFBIG: ['other', 'the file is too large for this file system'],
  EROFS: ['read-only', 'the file system is read-only'],
  EACCES: ['denied', 'permission denied'],
  EPERM: ['denied', 'not permitted'],
  EBUSY: ['denied', 'another program holds it'],
  EIO: ['failed', 'the disk failed'],
  ENXIO: ['failed', 'the device is gone'],
  ENODEV: ['failed', 'the device is gone'],
  ENAMETOOLONG: ['other', 'the name is too long'],
  EINVAL: ['other', 'the file system cannot hold this name'],
  EISDIR: ['other', 'a folder stands there'],
  ELOOP: ['other', 'its links go round in a circle'],
  EMFILE: ['other', 'too many files are open'],
};

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

function failure(error: unknown): DiskFailure {
  const code = codeOf(error);
  const [trouble, why] = troubles[code] ?? ['other', code === '' ? 'the system gave no reason' : code];
  return { kind: 'failed', trouble, why };
}

function attempt<T>(work: () => T): T | DiskFailure {
  try {
    return work();
  } catch (error) {
    return failure(error);
  }
}

function done(work: () => void): DiskResult {
  return attempt((): DiskResult => {
    work();
    return { kind: 'done' };
  });
}

function kindOf(entry: Stats): EntryKind {
  if (entry.isSymbolicLink()) return 'link';
  if (entry.isDirectory()) return 'folder';
  return entry.isFile() ? 'file' : 'other';
}

/** statfs(2), `f_type`: MSDOS_SUPER_MAGIC and EXFAT_SUPER_MAGIC of linux/magic.h. */
function fileSystemOf(type: number): FileSystemKind {
  if (type === 0x4d44) return 'fat';
  return type === 0x2011bab0 ? 'exfat' : 'other';
}

/** A file system that keeps no modes or owners may say so or be silent: what counts is what is read back. */
function own(file: number, { mode, uid, gid }: Ownership): boolean {
  const before = fstatSync(file);
  if ((uid !== undefined && uid !== before.uid) || (gid !== undefined && gid !== before.gid))
    done(() => fchownSync(file, uid ?? before.uid, gid ?? before.gid));
  // After the owner: a change of owner may take bits away.
  if (mode !== undefined) done(() => fchmodSync(file, mode));
  const after = fstatSync(file);
  return (
    (mode === undefined || (after.mode & 0o7777) === mode) &&
    (uid === undefined || after.uid === uid) &&
    (gid === undefined || after.gid === gid)
  );
}

function writeAll(file: number, bytes: Uint8Array): void {
  let at = 0;
  while (at < bytes.length) at += writeSync(file, bytes, at, bytes.length - at);
}

function byCodePoint(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The real disk, step by step. */
export const nodeDisk: Disk = {
  read: (path) => attempt(() => ({ kind: 'bytes', bytes: readFileSync(path) })),
  stat: (path) =>
    attempt(() => {
      const entry = lstatSync(path);
      const { size, uid, gid, mtimeMs, dev } = entry;
      return {
        kind: 'entry',
        entry: { kind: kindOf(entry), size, mode: entry.mode & 0o7777, uid, gid, mtime: mtimeMs, volume: dev },
      };
    }),
  list: (path) => attempt(() => ({ kind: 'names', names: readdirSync(path).sort(byCodePoint) })),
  real: (path) => attempt(() => ({ kind: 'path', path: hostPath(realpathSync(path)) })),
  writeNew: (path, bytes, ownership) =>
    attempt(() => {
      const file = openSync(path, 'wx', ownership.mode === undefined ? 0o666 : 0o600);
      try {
        writeAll(file, bytes);
        const kept = own(file, ownership);
        fsyncSync(file);
        return { kind: 'done', kept };
      } finally {
        closeSync(file);
      }
    }),
  rename: (from, to) => done(() => renameSync(from, to)),
  remove: (path) => done(() => unlinkSync(path)),
  makeFolder: (path, ownership) =>
    done(() => {
      mkdirSync(path);
      if (process.platform === 'win32') return;
      const folder = openSync(path, 'r');
      try {
        own(folder, ownership);
      } finally {
        closeSync(folder);
      }
    }),
  removeFolder: (path) => done(() => rmdirSync(path)),
  syncFolder(path) {
    // Windows opens no folder for this; its names are journalled by the file system.
    if (process.platform === 'win32') return { kind: 'done' };
    const result = done(() => {
      const folder = openSync(path, 'r');
      try {
        fsyncSync(folder);
      } finally {
        closeSync(folder);
      }
    });
    // Some network and user-space file systems refuse to flush a folder (EINVAL): there is no more to do there.
    return result.kind === 'failed' && result.why === troubles['EINVAL']?.[1] ? { kind: 'done' } : result;
  },
  space: (folder) =>
    attempt(() => {
      const { bavail, bsize, type } = statfsSync(folder);
      return { kind: 'space', free: bavail * bsize, cluster: bsize, fileSystem: fileSystemOf(type) };
    }),
  join: (folder, ...members) => hostPath(join(folder, ...members)),
};
