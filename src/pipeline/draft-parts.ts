/** A part of the card, as far as the device tells. */
export interface DraftPart {
  readonly name: string;
  readonly mountedAt: string;
  readonly filesystem: string | undefined;
  /** KiB of the file system. */
  readonly kibibytes: number | undefined;
}

/**
 * The parts on which folders lie, by the device's mounts (proc(5): blanks are octal there) and by df -kP. A folder on the
 * system's own part (`/`) becomes the part itself, so that no more of the system is meant than was fetched.
 */
export function draftParts(
  games: string,
  folders: readonly string[],
  mounts: string,
  sizes: string,
): readonly DraftPart[] {
  const known = mounts.split('\n').flatMap((line) => {
    const [, at, filesystem] = line.split(' ');
    const path = at?.replace(/\\([0-7]{3})/g, (_, octal: string) => String.fromCharCode(Number.parseInt(octal, 8)));
    return path === undefined || filesystem === undefined || !path.startsWith('/') ? [] : [{ path, filesystem }];
  });
  const parts: DraftPart[] = [];
  for (const folder of games === '' ? folders : [games, ...folders]) {
    if (parts.some(({ mountedAt }) => isBelow(folder, mountedAt))) continue;
    const mount = known
      .filter(({ path }) => path !== '/' && isBelow(folder, path))
      .sort((a, b) => b.path.length - a.path.length)[0];
    const stem = folder === games ? 'games' : 'settings';
    const count = parts.filter(({ name }) => name.startsWith(stem)).length;
    const size = sizes.split('\n').find((line) => mount !== undefined && line.endsWith(` ${mount.path}`));
    const blocks = /^.* (\d+) +\d+ +\d+ +\d+% /.exec(size ?? '')?.[1];
    parts.push({
      name: count === 0 ? stem : `${stem}-${count + 1}`,
      mountedAt: mount?.path ?? folder,
      filesystem: mount === undefined ? undefined : mount.filesystem === 'vfat' ? 'fat32' : mount.filesystem,
      kibibytes: blocks === undefined ? undefined : Number(blocks),
    });
  }
  return parts;
}

function isBelow(path: string, folder: string): boolean {
  return path === folder || path.startsWith(`${folder.replace(/\/$/, '')}/`);
}

/** A device's path as `part:path`; undefined where it lies on none of the parts. */
export function onPart(parts: readonly DraftPart[], path: string): string | undefined {
  const part = parts
    .filter(({ mountedAt }) => isBelow(path, mountedAt))
    .sort((a, b) => b.mountedAt.length - a.mountedAt.length)[0];
  return part === undefined ? undefined : `${part.name}:${path.slice(part.mountedAt.length).replace(/^\//, '')}`;
}
