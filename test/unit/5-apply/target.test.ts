import { describe, expect, it } from 'vitest';
import { checkTarget } from '../../../src/5-apply/target.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { BreakingDisk } from '../../support/breaking-disk.ts';

function machine(): BreakingDisk {
  const disk = new BreakingDisk();
  for (const path of [
    '/etc/passwd',
    '/usr/share/sill/x',
    '/home/ann/notes',
    '/home/ann/copy/sill/menu.json',
    '/opt/x',
    '/opt/sedge/hall/x',
  ])
    disk.plant(path, '');
  for (const path of [
    '/media/games/sill/menu.json',
    '/media/other/photo',
    '/run/media/ann/CARD/sill/x',
    '/tmp/x',
    '/var/x',
  ])
    disk.plant(path, '');
  disk.plantLink('/media/link-home', '/home/ann');
  disk.plantLink('/media/link-etc', '/etc');
  disk.plantLink('/media/link-card', 'games');
  disk.makeFolder(hostPath('/media/empty'));
  return disk;
}

function detail(
  folder: string,
  signs: readonly string[] = ['sill'],
  home: string | null = '/home/ann',
): string | undefined {
  const findings = checkTarget({
    disk: machine(),
    part: 'games',
    folder: hostPath(folder),
    shown: folder,
    home: home === null ? undefined : hostPath(home),
    signs,
  });
  expect(findings.every(({ code }) => code === 'not-a-card')).toBe(true);
  return findings[0]?.detail;
}

describe('is the folder really a card', () => {
  it.each(['/media/games', '/media/link-card', '/run/media/ann/CARD', '/home/ann/copy', '/media/games/'])(
    '%s is',
    (folder) => {
      expect(detail(folder)).toBeUndefined();
    },
  );

  it.each(['/home/ann', '/home/ann/', '/home', '/media/link-home', '/'])('%s holds the home folder', (folder) => {
    expect(detail(folder)).toContain('home folder');
  });

  it.each([
    '/etc',
    '/usr',
    '/usr/share',
    '/media/link-etc',
    '/media',
    '/run/media',
    '/opt',
    '/tmp',
    '/var',
    '/home',
    '/',
  ])('%s is a folder of the system, whatever it holds', (folder) => {
    expect(detail(folder, [''], null)).toContain("computer's own system");
  });

  it('the home folder may be reached through a link', () => {
    const disk = machine();
    disk.plantLink('/people', '/home');
    const findings = checkTarget({
      disk,
      part: 'games',
      folder: hostPath('/home/ann'),
      shown: '~',
      home: hostPath('/people/ann'),
      signs: [''],
    });
    expect(findings.map(({ code }) => code)).toEqual(['not-a-card']);
  });

  it('a folder that holds nothing of any frontend is none, and the message says what was looked for', () => {
    expect(detail('/media/other', ['sill', 'coble'])).toContain("'sill', 'coble'");
    expect(detail('/media/empty')).toContain("'sill'");
    expect(detail('/media/other/photo')).toContain('is no folder');
    expect(detail('/media/gone')).toContain('cannot be reached');
  });

  it("a frontend whose root is the part's own folder: anything in it is enough, unless a file of it is known", () => {
    expect(detail('/opt/sedge', [''])).toBeUndefined();
    expect(detail('/media/empty', [''])).toContain('is empty');
    expect(detail('/opt/sedge', ['', 'sedge.ini'])).toContain("'sedge.ini'");
  });
});
