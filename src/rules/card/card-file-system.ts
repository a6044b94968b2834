import type { Part } from '../../model/device.ts';

/** What is known of a part's file system by its name in the profile; `unix`: one of Linux's own. */
export type CardFileSystem = 'fat' | 'exfat' | 'unix' | 'unknown';

/** As people write it: the names of mount, mkfs and the data sheets. */
export function fileSystemOf(part: Part | undefined): CardFileSystem {
  const name = part?.filesystem;
  if (name === undefined) return 'unknown';
  if (/^exfat$/i.test(name)) return 'exfat';
  if (/^(?:v?fat(?:12|16|32)?|msdos)$/i.test(name)) return 'fat';
  return /^(?:ext[234]|f2fs|btrfs|xfs|jffs2|ubifs|erofs|squashfs|overlay(?:fs)?|tmpfs)$/i.test(name)
    ? 'unix'
    : 'unknown';
}
