import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Disk } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';

export interface Target {
  readonly disk: Disk;
  readonly part: string;
  /** The folder that is said to be this part of the card. */
  readonly folder: HostPath;
  /** The same, as the person wrote it. */
  readonly shown: string;
  /** Of the person who runs the tool. */
  readonly home: HostPath | undefined;
  /**
   * Paths below the part by which it is known: the frontends' roots, and files of theirs. One that is there is enough. An
   * empty one is the part's own folder: then it is enough that there is anything in it.
   */
  readonly signs: readonly string[];
}

/**
 * Folders of the system, with all that lies in them. Filesystem Hierarchy Standard 3.0, chapters 3, 4 and 6; the others
 * are common practice, no source.
 */
const systemTrees = [
  ...['bin', 'boot', 'dev', 'etc', 'lib', 'lib32', 'lib64', 'libx32', 'proc', 'sbin', 'sys', 'usr'].map(
    (name) => `/${name}`,
  ),
  '/private/etc',
  '/system',
  '/library',
  '/applications',
  'c:/windows',
  'c:/program files',
  'c:/program files (x86)',
];

/** Folders in which others are mounted or kept: they themselves are no card. */
const systemFolders = [
  ...['', 'home', 'media', 'mnt', 'opt', 'root', 'run', 'srv', 'tmp', 'var'].map((name) => `/${name}`),
  '/run/media',
  '/users',
  '/volumes',
  '/private',
  '/private/var',
  '/private/tmp',
  'c:/',
  'c:/users',
];

function plain(path: string): string {
  const slashes = path.replaceAll('\\', '/').toLowerCase();
  return slashes.length > 1 && !/^[a-z]:\/$/.test(slashes) ? slashes.replace(/\/+$/, '') : slashes;
}

function isIn(path: string, tree: string): boolean {
  return path === tree || path.startsWith(tree.endsWith('/') ? tree : `${tree}/`);
}

/**
 * Is the folder really a card? Names what speaks against it; none: it may be written. Reads only. Case is not heeded:
 * where it would matter, a folder too many is refused.
 */
export function checkTarget({ disk, part, folder, shown, home, signs }: Target): readonly Finding[] {
  const real = disk.real(folder);
  if (real.kind === 'failed') return [refused(shown, part, `cannot be reached: ${real.why}`)];
  const there = disk.stat(real.path);
  if (there.kind === 'failed') return [refused(shown, part, `cannot be reached: ${there.why}`)];
  if (there.entry.kind !== 'folder') return [refused(shown, part, 'is no folder')];
  const path = plain(real.path);
  if (home !== undefined) {
    const own = disk.real(home);
    for (const known of [plain(home), ...(own.kind === 'path' ? [plain(own.path)] : [])])
      if (isIn(known, path)) return [refused(shown, part, 'is your home folder, or one that holds it')];
  }
  if (systemFolders.includes(path) || systemTrees.some((tree) => isIn(path, tree)))
    return [refused(shown, part, "is a folder of this computer's own system")];
  return holdsSign(disk, real.path, signs) ? [] : [refused(shown, part, none(signs))];
}

function holdsSign(disk: Disk, folder: HostPath, signs: readonly string[]): boolean {
  return signs.some((sign) => {
    if (sign !== '') return disk.stat(disk.join(folder, sign)).kind === 'entry';
    // A known file says more than 'there is something'.
    if (signs.some((other) => other !== '')) return false;
    const listed = disk.list(folder);
    return listed.kind === 'names' && listed.names.length > 0;
  });
}

function none(signs: readonly string[]): string {
  const some = signs.filter((sign) => sign !== '').slice(0, 4);
  return some.length === 0
    ? 'is empty'
    : `holds nothing that the profile's frontends would have there, such as ${some.map((sign) => `'${sign}'`).join(', ')}`;
}

function refused(shown: string, part: string, why: string): Finding {
  return makeFinding('not-a-card', {
    detail: `'${shown}', named as the part '${part}', ${why}. A write there would miss the device and could harm this computer.`,
    wayOut: `Look where the card is mounted, and name that folder: --card ${part}=FOLDER`,
  });
}
