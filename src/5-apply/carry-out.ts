import type { Disk, DiskFailure, DiskResult, Ownership } from '../files/disk.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Store } from './store.ts';
import { contentAt, ensureFolder, inTurn, removeIfThere, replaceFile, sha256 } from './steps.ts';
import type { Turn, TurnFile } from './turn.ts';

/** Where a turn's files really lie. */
export interface Ground {
  readonly disk: Disk;
  readonly store: Store;
  readonly roots: ReadonlyMap<string, HostPath>;
}

export function placeOf({ disk, roots }: Ground, part: string, at: string): HostPath {
  const root = roots.get(part);
  if (root === undefined)
    throw new Error(`A turn reaches the part '${part}', which is not there. This is a bug in thumbwright.`);
  return disk.join(root, at);
}

/** Keeps all that taking the turn back needs, then marks it as begun. Nothing on the card is touched. */
export function prepare({ store }: Ground, turn: Turn, texts: Iterable<Uint8Array>): DiskFailure | undefined {
  return inTurn([...[...texts].map((text) => () => store.putText(text)), () => store.begin(turn)]);
}

/**
 * Brings the card from the state before a turn to the one after it: every new file whole beside the old one, then the
 * renames, then all of it read back.
 */
export function carryOut(
  ground: Ground,
  turn: Turn,
  contents: ReadonlyMap<CardPath, Uint8Array>,
): { readonly kind: 'done'; readonly notKept: readonly CardPath[] } | DiskFailure {
  const { disk } = ground;
  const notKept: CardPath[] = [];
  const at = (part: string, path: string): HostPath => placeOf(ground, part, path);
  const steps: (() => DiskResult)[] = [];
  for (const { part, at: folder } of turn.makes)
    steps.push(
      () => disk.makeFolder(at(part, folder), folderOwnership(disk, at(part, folder))),
      () => disk.syncFolder(disk.join(at(part, folder), '..')),
    );
  for (const file of turn.files) {
    const content = contents.get(file.path);
    if (content === undefined) continue;
    steps.push(() => {
      const written = disk.writeNew(at(file.part, file.temporary), content, file.gets);
      if (written.kind === 'done' && !written.kept) notKept.push(file.path);
      return written;
    });
  }
  const folders = new Set<HostPath>();
  for (const file of turn.files) {
    const target = at(file.part, file.at);
    folders.add(disk.join(target, '..'));
    steps.push(() => (file.after === null ? disk.remove(target) : disk.rename(at(file.part, file.temporary), target)));
  }
  for (const folder of folders) steps.push(() => disk.syncFolder(folder));
  for (const file of turn.files) steps.push(() => readBack(ground, file));
  return inTurn(steps) ?? { kind: 'done', notKept };
}

/** As the folder it lies in: what is put on a card by root is still its user's. */
function folderOwnership(disk: Disk, folder: HostPath): Ownership {
  const above = disk.stat(disk.join(folder, '..'));
  if (above.kind === 'failed') return {};
  const { mode, uid, gid } = above.entry;
  return { mode, uid, gid };
}

function readBack(ground: Ground, { part, at, after }: TurnFile): DiskResult {
  const content = contentAt(ground.disk, placeOf(ground, part, at));
  if (content.kind === 'failed') return content;
  const hash = content.bytes === null ? null : sha256(content.bytes);
  return hash === after
    ? { kind: 'done' }
    : { kind: 'failed', trouble: 'failed', why: 'what was written reads back differently' };
}

/** What is left to do once a turn counts: the record, folders that are no longer wanted, the journal. Can be repeated. */
export function goThrough(ground: Ground, turn: Turn, record: HostPath): DiskFailure | undefined {
  const { store } = ground;
  return inTurn([
    () => bringRecord(ground, record, turn.record.before, turn.record.after),
    () => dropFolders(ground, turn),
    () => store.end(turn.number),
  ]);
}

/** Takes folders off that are empty; one that holds something by now stays. */
export function dropFolders(ground: Ground, { drops }: Pick<Turn, 'drops'>): DiskResult {
  const { disk } = ground;
  for (const { part, at } of drops) {
    const folder = placeOf(ground, part, at);
    const result = disk.removeFolder(folder);
    if (result.kind === 'failed' && result.trouble === 'not-empty') continue;
    if (result.kind === 'failed' && result.trouble !== 'absent') return result;
    const last = flushed(disk, disk.join(folder, '..'));
    if (last.kind === 'failed') return last;
  }
  return { kind: 'done' };
}

/** A folder's names last, where there is such a folder. */
function flushed(disk: Disk, folder: HostPath): DiskResult {
  const result = disk.syncFolder(folder);
  return result.kind === 'failed' && result.trouble === 'absent' ? { kind: 'done' } : result;
}

/** The record goes from one text to the other; one that holds neither was changed since, and stays. */
export function bringRecord(
  { disk, store }: Ground,
  record: HostPath,
  from: string | null,
  to: string | null,
): DiskResult {
  const temporary = disk.join(record, '..', `.thumbwright-record.new`);
  const cleared = removeIfThere(disk, temporary);
  if (cleared.kind === 'failed') return cleared;
  const content = contentAt(disk, record);
  if (content.kind === 'failed') return content;
  const now = content.bytes === null ? null : sha256(content.bytes);
  const folder = disk.join(record, '..');
  // Renamed by a process that was killed before it could flush the folder: nobody else will.
  if (now === to) return flushed(disk, folder);
  if (now !== from) return { kind: 'done' };
  if (to === null)
    return inTurn([() => removeIfThere(disk, record), () => disk.syncFolder(folder)]) ?? { kind: 'done' };
  const there = disk.stat(record);
  const mode = there.kind === 'entry' ? { mode: there.entry.mode } : {};
  const kept = store.text(to);
  if (kept.kind === 'failed') return kept;
  return (
    inTurn([() => ensureFolder(disk, folder), () => replaceFile(disk, record, temporary, kept.bytes, mode)]) ?? {
      kind: 'done',
    }
  );
}
