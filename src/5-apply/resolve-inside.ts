import type { Disk, DiskEntry, DiskFailure } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';

/** Where a file of a part really lies. */
export type Inside =
  | {
      readonly kind: 'inside';
      /** Below the part's folder, links followed. */
      readonly at: string;
      /** Folders on the way that are missing, outer ones first, as `at`. */
      readonly missing: readonly string[];
      /** What stands there now. */
      readonly entry: DiskEntry | undefined;
      /** The innermost folder on the way that is there. */
      readonly folder: DiskEntry;
    }
  /** A link on the way leads out of the part, or nowhere. */
  | { readonly kind: 'leaves' }
  /** A file stands where a folder is needed, or a folder or device where the file is. */
  | { readonly kind: 'blocked' }
  | DiskFailure;

/** Follows a path below a part's folder (`root` with all links resolved) member by member. */
export function resolveInside(disk: Disk, root: HostPath, path: string): Inside {
  const members = path.split('/');
  let here: string[] = [];
  const top = disk.stat(root);
  if (top.kind === 'failed') return top;
  let folder = top.entry;
  for (const [index, member] of members.entries()) {
    let next = [...here, member];
    let found = disk.stat(disk.join(root, ...next));
    if (found.kind === 'entry' && found.entry.kind === 'link') {
      const real = disk.real(disk.join(root, ...next));
      if (real.kind === 'failed')
        return real.trouble === 'absent' || real.trouble === 'other' ? { kind: 'leaves' } : real;
      const below = membersBelow(disk, root, real.path);
      if (below === undefined) return { kind: 'leaves' };
      next = below;
      found = disk.stat(real.path);
    }
    const last = index === members.length - 1;
    if (found.kind === 'failed') {
      if (found.trouble !== 'absent') return found;
      const rest = members.slice(index + 1);
      const missing = rest.map((_, count) => [...next, ...rest.slice(0, count)].join('/'));
      return { kind: 'inside', at: [...next, ...rest].join('/'), missing, entry: undefined, folder };
    }
    if (last) {
      if (found.entry.kind !== 'file') return { kind: 'blocked' };
      return { kind: 'inside', at: next.join('/'), missing: [], entry: found.entry, folder };
    }
    if (found.entry.kind !== 'folder') return { kind: 'blocked' };
    here = next;
    folder = found.entry;
  }
  return { kind: 'blocked' };
}

function membersBelow(disk: Disk, root: HostPath, path: HostPath): string[] | undefined {
  const stem = disk.join(root, 'x').slice(0, -1);
  return path.startsWith(stem) ? path.slice(stem.length).split(/[\\/]/) : undefined;
}
