import { createHash } from 'node:crypto';
import type { ApplyInput, CardPlace, Work } from '../../src/5-apply/apply-input.ts';
import type { Disk } from '../../src/files/disk.ts';
import { cardPath, hostPath } from '../../src/model/paths.ts';
import type { CardPath } from '../../src/model/paths.ts';

export function onCard(text: string): CardPath {
  const path = cardPath(text);
  if (path === undefined) throw new Error(`${text} is no path of a card`);
  return path;
}

export function sha(text: string | Uint8Array): string {
  return createHash('sha256').update(text).digest('hex');
}

/** A plan's file, in few words; null: no file. */
export function work(path: string, seen: string | null, wanted: string | null, more: Partial<Work> = {}): Work {
  return {
    path: onCard(path),
    expected: seen === null ? undefined : { keyed: false, hash: sha(seen) },
    content: wanted === null ? undefined : Buffer.from(wanted, 'utf8'),
    ...more,
  };
}

/** A card with two parts below `base`, and its store and record beside them. */
export function placeAt(disk: Disk, base = ''): CardPlace {
  return {
    disk,
    store: hostPath(`${base}/home/.thumbwright/private/cards/fen-1`),
    parts: new Map([
      ['games', hostPath(`${base}/media/games`)],
      ['settings', hostPath(`${base}/media/settings`)],
    ]),
    record: hostPath(`${base}/home/.thumbwright/cards/fen-1.yaml`),
    stamp: '2026-11-25 16:00',
    pid: 42,
    isAlive: () => false,
    commands: { write: 'thumbwright write fen --card games', undo: 'thumbwright undo fen --card games' },
  };
}

export function inputAt(disk: Disk, works: readonly Work[], recordText: string, base = ''): ApplyInput {
  return { ...placeAt(disk, base), works, recordText, fingerprint: (bytes) => sha(bytes) };
}
