import { createHash } from 'node:crypto';
import type { Disk, DiskFailure, DiskResult, DiskWritten, Ownership } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';

/** SHA-256 in hex: the name of a text in the store, and what tells an old file from a new one. */
export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Takes steps until one fails. */
export function inTurn(steps: Iterable<() => DiskResult>): DiskFailure | undefined {
  for (const step of steps) {
    const result = step();
    if (result.kind === 'failed') return result;
  }
  return undefined;
}

/** What stands there: its bytes, or null where nothing does. */
export function contentAt(
  disk: Disk,
  path: HostPath,
): { readonly kind: 'content'; readonly bytes: Uint8Array | null } | DiskFailure {
  const read = disk.read(path);
  if (read.kind === 'bytes') return { kind: 'content', bytes: read.bytes };
  return read.trouble === 'absent' ? { kind: 'content', bytes: null } : read;
}

/** As remove, but what is gone already is done. */
export function removeIfThere(disk: Disk, path: HostPath): DiskResult {
  const result = disk.remove(path);
  return result.kind === 'failed' && result.trouble === 'absent' ? { kind: 'done' } : result;
}

/** A folder and those above it that are missing, each one lasting before the next. */
export function ensureFolder(disk: Disk, folder: HostPath, ownership: Ownership = {}): DiskResult {
  const there = disk.stat(folder);
  if (there.kind === 'entry') return { kind: 'done' };
  if (there.trouble !== 'absent') return there;
  const above = disk.join(folder, '..');
  if (above === folder) return there;
  return (
    inTurn([
      () => ensureFolder(disk, above, ownership),
      () => disk.makeFolder(folder, ownership),
      () => disk.syncFolder(above),
    ]) ?? {
      kind: 'done',
    }
  );
}

/** Puts bytes in a file's place so that at any moment either the old file or the new one stands there. */
export function replaceFile(
  disk: Disk,
  path: HostPath,
  temporary: HostPath,
  bytes: Uint8Array,
  ownership: Ownership,
): DiskWritten {
  const cleared = removeIfThere(disk, temporary);
  if (cleared.kind === 'failed') return cleared;
  const written = disk.writeNew(temporary, bytes, ownership);
  if (written.kind === 'failed') return written;
  return inTurn([() => disk.rename(temporary, path), () => disk.syncFolder(disk.join(path, '..'))]) ?? written;
}
