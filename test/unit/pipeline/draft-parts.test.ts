import { describe, expect, it } from 'vitest';
import { draftParts, onPart } from '../../../src/pipeline/draft-parts.ts';

// proc(5): fields of a mount are parted by blanks, a blank in one is written \040. df -kP: POSIX, XCU df.
const mounts =
  '/dev/a / ext4 ro 0 0\n/dev/b /media/the\\040games vfat rw 0 0\n/dev/c /media/the\\040games/more exfat rw 0 0\n';
const sizes = `Filesystem 1024-blocks Used Available Capacity Mounted on
/dev/a 4096 100 3996 3% /
/dev/b 124976544 1000 124975544 1% /media/the games
`;

describe('draftParts', () => {
  const parts = draftParts('/media/the games', ['/opt/sedge', '/media/the games/sill', '/opt/sedge2'], mounts, sizes);

  it('takes the mounts of what was fetched, and of the system only the folders', () => {
    expect(parts).toEqual([
      { name: 'games', mountedAt: '/media/the games', filesystem: 'fat32', kibibytes: 124976544 },
      { name: 'settings', mountedAt: '/opt/sedge', filesystem: undefined, kibibytes: undefined },
      { name: 'settings-2', mountedAt: '/opt/sedge2', filesystem: undefined, kibibytes: undefined },
    ]);
  });

  it('puts a path on the innermost part', () => {
    expect(onPart(parts, '/media/the games/sill')).toBe('games:sill');
    expect(onPart(parts, '/opt/sedge')).toBe('settings:');
    expect(onPart(parts, '/opt/sedge2/hall')).toBe('settings-2:hall');
    expect(onPart(parts, '/opt')).toBeUndefined();
  });
});
