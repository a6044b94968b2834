import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { hostPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import type { EntryKind, Files, ReadResult, WriteResult } from './contract.ts';

interface Kinds {
  isFile(): boolean;
  isDirectory(): boolean;
  isSymbolicLink(): boolean;
}

function kindOf(entry: Kinds): EntryKind {
  if (entry.isSymbolicLink()) return 'link';
  if (entry.isDirectory()) return 'folder';
  return entry.isFile() ? 'file' : 'other';
}

/** What the system said, in its own short words, without the path of the machine. */
function reason(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { code } = error as NodeJS.ErrnoException;
  const words: Readonly<Record<string, string>> = {
    EACCES: 'permission denied',
    EPERM: 'not permitted',
    EROFS: 'the file system is read-only',
    ENOSPC: 'no space is left',
    EIO: 'the disk failed',
    ENOTDIR: 'a file stands where a folder is needed',
    EISDIR: 'a folder stands there',
    ENOENT: 'its folder cannot be made',
    ELOOP: 'its links go round in a circle',
    ENAMETOOLONG: 'the name is too long',
    EMFILE: 'too many files are open',
  };
  return (code === undefined ? undefined : words[code]) ?? code ?? 'the system gave no reason';
}

function attempt(work: () => void): WriteResult {
  try {
    work();
    return { kind: 'done' };
  } catch (error) {
    return { kind: 'failed', why: reason(error) };
  }
}

function isAbsent(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  const { code } = error as NodeJS.ErrnoException;
  return code === 'ENOENT' || code === 'ENOTDIR';
}

function byCodePoint(a: { readonly name: string }, b: { readonly name: string }): number {
  return a.name < b.name ? -1 : a.name > b.name ? 1 : 0;
}

/**
 * A folder and those above it that are missing. Not by mkdir's own `recursive`: where the system answers 'not there' to
 * making a folder (as below /proc), that goes round for ever.
 */
function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  const above = dirname(folder);
  if (above !== folder) makeFolder(above);
  mkdirSync(folder);
}

/** The real disk. */
export const nodeFiles: Files = {
  read(path, limit): ReadResult {
    try {
      const entry = statSync(path);
      if (!entry.isFile()) return { kind: 'not-a-file', is: kindOf(entry) };
      if (limit !== undefined && entry.size > limit) return { kind: 'too-large', bytes: entry.size };
      return { kind: 'bytes', bytes: readFileSync(path) };
    } catch (error) {
      return isAbsent(error) ? { kind: 'absent' } : { kind: 'failed', why: reason(error) };
    }
  },
  kind(path) {
    try {
      return kindOf(lstatSync(path));
    } catch {
      return undefined;
    }
  },
  list(path) {
    try {
      return readdirSync(path, { withFileTypes: true })
        .map((entry) => ({ name: entry.name, kind: kindOf(entry) }))
        .sort(byCodePoint);
    } catch {
      return undefined;
    }
  },
  real(path) {
    try {
      return hostPath(realpathSync(path));
    } catch {
      return undefined;
    }
  },
  mode(path) {
    // Windows makes the bits up from its read-only mark.
    if (process.platform === 'win32') return undefined;
    try {
      return statSync(path).mode & 0o7777;
    } catch {
      return undefined;
    }
  },
  size(path) {
    try {
      return statSync(path).size;
    } catch {
      return undefined;
    }
  },

  write(path, bytes, mode): WriteResult {
    const beside = `${path}.thumbwright-new`;
    const result = attempt(() => {
      makeFolder(dirname(path));
      // From the start, so that a secret is at no moment readable by others.
      writeFileSync(beside, bytes, mode === undefined ? {} : { mode });
      if (mode !== undefined) chmodSync(beside, mode);
      renameSync(beside, path);
    });
    if (result.kind === 'failed') attempt(() => unlinkSync(beside));
    return result;
  },
  remove: (path) => attempt(() => unlinkSync(path)),
  join: (folder: HostPath, ...members: readonly string[]) => hostPath(join(folder, ...members)),
};
