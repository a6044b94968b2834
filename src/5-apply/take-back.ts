import type { DiskFailure, DiskResult } from '../files/disk.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import { bringRecord, dropFolders, placeOf } from './carry-out.ts';
import type { Ground } from './carry-out.ts';
import { contentAt, inTurn, removeIfThere, replaceFile, sha256 } from './steps.ts';
import type { Turn, TurnFile } from './turn.ts';

/**
 * Brings everything back to how it was before a turn, from wherever it stopped. A file that is neither as it was nor as
 * we wrote it was changed since, and stays: its path is given back. Can be repeated.
 */
export function takeBack(
  ground: Ground,
  turn: Turn,
  record: HostPath,
): { readonly kind: 'done'; readonly changed: readonly CardPath[] } | DiskFailure {
  const { disk, store } = ground;
  const changed: CardPath[] = [];
  const folders = new Set<HostPath>();
  const missing = new Set(turn.makes.map(({ part, at }) => `${part}:${at}`));
  const steps: (() => DiskResult)[] = [];
  // The new files first: a full card needs their room for the old ones.
  for (const file of turn.files) {
    steps.push(() => removeIfThere(disk, placeOf(ground, file.part, file.temporary)));
    if (!missing.has(`${file.part}:${folderOf(file.at)}`))
      folders.add(disk.join(placeOf(ground, file.part, file.at), '..'));
  }
  for (const file of turn.files)
    steps.push(() => {
      const back = fileBack(ground, file);
      if (back.kind === 'changed') changed.push(file.path);
      return back.kind === 'failed' ? back : { kind: 'done' };
    });
  for (const folder of folders) steps.push(() => disk.syncFolder(folder));
  steps.push(
    () => dropFolders(ground, { drops: [...turn.makes].reverse() }),
    () => bringRecord(ground, record, turn.record.after, turn.record.before),
    () => store.forget(turn.number),
  );
  return inTurn(steps) ?? { kind: 'done', changed };
}

function folderOf(at: string): string {
  return at.slice(0, Math.max(0, at.lastIndexOf('/')));
}

function fileBack(ground: Ground, file: TurnFile): { readonly kind: 'done' | 'changed' } | DiskFailure {
  const { disk, store } = ground;
  const target = placeOf(ground, file.part, file.at);
  const content = contentAt(disk, target);
  if (content.kind === 'failed') return content;
  const now = content.bytes === null ? null : sha256(content.bytes);
  if (now === file.before) return { kind: 'done' };
  // A card that is pulled out can leave a name without its bytes; there is nothing in it to lose.
  const emptied = content.bytes === null || content.bytes.length === 0;
  if (now !== file.after && !emptied) return { kind: 'changed' };
  if (file.before === null) return asDone(removeIfThere(disk, target));
  const kept = store.text(file.before);
  if (kept.kind === 'failed') return kept;
  return asDone(replaceFile(disk, target, placeOf(ground, file.part, file.temporary), kept.bytes, file.had));
}

function asDone(result: DiskResult): { readonly kind: 'done' } | DiskFailure {
  return result.kind === 'failed' ? result : { kind: 'done' };
}
