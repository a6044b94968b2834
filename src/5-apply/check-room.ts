import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Disk, DiskFailure, DiskSpace } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';
import { clustersOf, FolderSlots } from './room.ts';
import type { LowerCase } from './room.ts';
import type { Change } from './survey.ts';
import type { TurnFolder } from './turn.ts';

/** Clusters of one file system. */
export interface Forecast {
  readonly space: DiskSpace;
  /** The parts that lie on it. */
  readonly parts: readonly string[];
  /** Taken beyond now when it is at its fullest: every new file stands beside every old one. */
  readonly peak: number;
  /** Taken beyond now in the end; less than nothing where files become shorter. */
  readonly after: number;
}

/**
 * Entries that a file system's own folder has instead of dots. FAT: a label, as a card often has. exFAT: label, bitmap and
 * up-case table (exFAT file system specification, 7.1 to 7.3).
 */
const topEntries = { fat: 1, exfat: 3, other: 0 } as const;

/** Is the folder the top of its file system? */
function isMounted(disk: Disk, root: HostPath, volume: number): boolean {
  const outside = disk.stat(disk.join(root, '..'));
  return outside.kind === 'entry' && outside.entry.volume !== volume;
}

function above(at: string): string {
  return at.slice(0, Math.max(0, at.lastIndexOf('/')));
}

function nameOf(at: string): string {
  return at.slice(at.lastIndexOf('/') + 1);
}

/** What a write will take of each file system that it reaches; `temporaries` as the changes. Only reads. */
export function forecastRoom(
  disk: Disk,
  roots: ReadonlyMap<string, HostPath>,
  { changes, makes }: { readonly changes: readonly Change[]; readonly makes: readonly TurnFolder[] },
  temporaries: readonly string[],
  lowerCase?: LowerCase,
): { readonly kind: 'forecast'; readonly volumes: readonly Forecast[] } | DiskFailure {
  const volumes = new Map<
    number,
    { space: DiskSpace; parts: string[]; data: number; freed: number; folders: FolderSlots[] }
  >();
  const volumeOf = new Map<string, number>();
  for (const part of new Set(changes.map(({ part }) => part))) {
    const root = roots.get(part);
    if (root === undefined) continue;
    const found = disk.stat(root);
    if (found.kind === 'failed') return found;
    const space = disk.space(root);
    if (space.kind === 'failed') return space;
    const { volume } = found.entry;
    volumeOf.set(part, volume);
    const known = volumes.get(volume);
    if (known === undefined) volumes.set(volume, { space, parts: [part], data: 0, freed: 0, folders: [] });
    else known.parts.push(part);
  }
  const folders = new Map<string, FolderSlots>();
  const isNew = new Set(makes.map(({ part, at }) => `${part}:${at}`));
  const slots = (part: string, at: string): FolderSlots | DiskFailure | undefined => {
    const id = `${part}:${at}`;
    const known = folders.get(id);
    const root = roots.get(part);
    const volume = volumes.get(volumeOf.get(part) ?? -1);
    if (known !== undefined || root === undefined || volume === undefined) return known;
    const { space } = volume;
    const dots = space.fileSystem === 'fat' ? 2 : 0;
    let made: FolderSlots;
    if (isNew.has(id)) made = new FolderSlots(space, { clusters: 0, fixed: dots, names: [] }, lowerCase);
    else {
      const entry = disk.stat(disk.join(root, at));
      if (entry.kind === 'failed') return entry;
      const listed = disk.list(disk.join(root, at));
      if (listed.kind === 'failed') return listed;
      const fixed = at === '' && isMounted(disk, root, entry.entry.volume) ? topEntries[space.fileSystem] : dots;
      const clusters = Math.max(1, clustersOf(entry.entry.size, space.cluster));
      made = new FolderSlots(space, { clusters, fixed, names: listed.names }, lowerCase);
    }
    folders.set(id, made);
    volume.folders.push(made);
    return made;
  };
  for (const { part, at } of makes) {
    for (const folder of [slots(part, above(at)), slots(part, at)])
      if (folder !== undefined && 'kind' in folder) return folder;
    const parent = slots(part, above(at));
    if (parent instanceof FolderSlots) parent.add(nameOf(at));
  }
  for (const [index, { part, at, before, after }] of changes.entries()) {
    const folder = slots(part, above(at));
    const volume = volumes.get(volumeOf.get(part) ?? -1);
    if (folder === undefined || volume === undefined) continue;
    if (!(folder instanceof FolderSlots)) return folder;
    const { cluster } = volume.space;
    if (before !== null) volume.freed += clustersOf(before.length, cluster);
    if (after === null) continue;
    volume.data += clustersOf(after.length, cluster);
    folder.add(nameOf(temporaries[index] ?? ''));
  }
  // The renames, in their order: a new name is put in before the temporary one goes.
  for (const [index, { part, at, before, after }] of changes.entries()) {
    const folder = slots(part, above(at));
    if (!(folder instanceof FolderSlots)) continue;
    if (after === null) folder.remove(nameOf(at));
    else {
      if (before === null) folder.add(nameOf(at));
      folder.remove(nameOf(temporaries[index] ?? ''));
    }
  }
  return {
    kind: 'forecast',
    volumes: [...volumes.values()].map(({ space, parts, data, freed, folders: all }) => {
      const grown = all.reduce((sum, folder) => sum + folder.growth, 0);
      return { space, parts, peak: data + grown, after: data + grown - freed };
    }),
  };
}

/** What does not fit, before anything is touched. */
export function noRoom(volumes: readonly Forecast[], command: string): readonly Finding[] {
  return volumes
    .filter(({ space, peak }) => peak * space.cluster > space.free)
    .map(({ space, parts, peak }) =>
      makeFinding('not-enough-room', {
        detail: `${parts.map((part) => `'${part}'`).join(' and ')} has ${space.free} bytes free; the new files beside the old ones take ${peak * space.cluster} (${peak} clusters of ${space.cluster} bytes). Nothing was written.`,
        wayOut: `Make room on it, then run:\n\n    ${command}`,
      }),
    );
}
