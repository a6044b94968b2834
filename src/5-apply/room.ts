import type { DiskSpace, FileSystemKind } from '../files/disk.ts';

/**
 * How a driver stores a name of eight and three letters in lower case: as a long name beside the short one (Linux vfat as
 * it is mounted by default), or with two bits of the short one (mtools; vfat with `shortname=winnt`).
 */
export type LowerCase = 'long-name' | 'bits';

const entryBytes = 32;

/**
 * Entries of 32 bytes that a name takes in its folder. FAT: one, and one for every 13 UTF-16 units when the name does not
 * fit the short form (Microsoft, FAT32 File System Specification 1.03, 'Long Directory Entries'). exFAT: two, and one for
 * every 15 (Microsoft, exFAT file system specification, 7.4 to 7.7).
 */
export function entriesOf(name: string, fileSystem: FileSystemKind, lowerCase: LowerCase = 'long-name'): number {
  if (fileSystem === 'exfat') return 2 + Math.ceil(name.length / 15);
  return isShort(name, lowerCase) ? 1 : 1 + Math.ceil(name.length / 13);
}

function isShort(name: string, lowerCase: LowerCase): boolean {
  const match = /^([A-Z0-9!#$%&'()@^_`{}~-]{1,8})(?:\.([A-Z0-9!#$%&'()@^_`{}~-]{1,3}))?$/i.exec(name);
  if (match === null) return false;
  const parts = [match[1] ?? '', match[2] ?? ''];
  if (parts.every((part) => part === part.toUpperCase())) return true;
  return lowerCase === 'bits' && parts.every((part) => part === part.toUpperCase() || part === part.toLowerCase());
}

/** Clusters of a file's bytes: an empty file has none. */
export function clustersOf(bytes: number, cluster: number): number {
  return Math.ceil(bytes / cluster);
}

/** A folder's names as they lie in it, so far as they can be known: in the order of the list, without gaps. */
export class FolderSlots {
  private readonly space: Pick<DiskSpace, 'cluster' | 'fileSystem'>;
  private readonly lowerCase: LowerCase;
  private readonly slots: (string | undefined)[] = [];
  private readonly start: number;
  private grown = 0;

  /** `clusters`: what it has now, 0 for a folder that is to be made. `fixed`: entries that are no names. */
  constructor(
    space: Pick<DiskSpace, 'cluster' | 'fileSystem'>,
    folder: { readonly clusters: number; readonly fixed: number; readonly names: readonly string[] },
    lowerCase: LowerCase = 'long-name',
  ) {
    this.space = space;
    this.lowerCase = lowerCase;
    for (let count = 0; count < folder.fixed; count++) this.slots.push('');
    for (const name of folder.names) this.add(name);
    // A folder is never shorter than its names; the system may not say how long it is.
    const least = folder.clusters === 0 && folder.names.length === 0 ? 0 : this.reckoned();
    this.start = Math.max(folder.clusters, least);
    this.grown = Math.max(this.start, this.reckoned());
  }

  private reckoned(): number {
    return Math.max(1, Math.ceil((this.slots.length * entryBytes) / this.space.cluster));
  }

  /** The first gap that is long enough, else the end: a folder only grows. */
  add(name: string): void {
    const wanted = entriesOf(name, this.space.fileSystem, this.lowerCase);
    // A gap at the end is made longer.
    let from = this.slots.length;
    for (let run = 0, here = 0; here < this.slots.length; here++) {
      run = this.slots[here] === undefined ? run + 1 : 0;
      if (run === wanted || (here === this.slots.length - 1 && run > 0)) {
        from = here - run + 1;
        break;
      }
    }
    for (let count = 0; count < wanted; count++) this.slots[from + count] = name;
    this.grown = Math.max(this.grown, this.reckoned());
  }

  remove(name: string): void {
    this.slots.forEach((held, at) => {
      if (held === name) this.slots[at] = undefined;
    });
  }

  /** Clusters by which it has grown. How other file systems keep their folders is theirs: a new one takes a cluster. */
  get growth(): number {
    if (this.space.fileSystem === 'other') return this.start === 0 ? 1 : 0;
    return this.grown - this.start;
  }
}
