import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { BreakingDisk } from '../../support/breaking-disk.ts';
import { inputAt, onCard, work } from '../../support/apply-world.ts';

function card(): BreakingDisk {
  const disk = new BreakingDisk();
  disk.plant('/media/games/sill/menu.json', '{"wide":1}\n');
  disk.plant('/media/games/sill/old.json', '{}\n');
  disk.plant('/media/settings/hall/play.conf', 'keep-place: off\nsoft: 1\n', 0o640);
  disk.plant('/home/.thumbwright/cards/fen-1.yaml', 'record: 1\n');
  return disk;
}

const works = [
  work('games:sill/menu.json', '{"wide":1}\n', '{"wide":2}\n'),
  work('games:sill/old.json', '{}\n', null),
  work('settings:hall/play.conf', 'keep-place: off\nsoft: 1\n', 'keep-place: on\nsoft: 1\n'),
  work('settings:hall/systems/burdock.conf', null, 'engine: thrush\n', { mode: 0o600 }),
];

describe('apply', () => {
  it('writes what the plan says, keeps the modes, and leaves nothing beside the files', () => {
    const disk = card();
    const { value, findings } = apply(inputAt(disk, works, 'record: 2\n'));
    expect(findings).toEqual([]);
    expect(value).toEqual({ kind: 'done', number: 1, files: works.map(({ path }) => path) });
    expect([...disk.picture('/media')]).toEqual([
      ['/', ''],
      ['/games/', ''],
      ['/games/sill/', ''],
      ['/games/sill/menu.json', '644 {"wide":2}\n'],
      ['/settings/', ''],
      ['/settings/hall/', ''],
      ['/settings/hall/play.conf', '640 keep-place: on\nsoft: 1\n'],
      ['/settings/hall/systems/', ''],
      ['/settings/hall/systems/burdock.conf', '600 engine: thrush\n'],
    ]);
    expect([...disk.picture('/home/.thumbwright/cards')]).toEqual([
      ['/', ''],
      ['/fen-1.yaml', '644 record: 2\n'],
    ]);
  });

  it('a second write does nothing, times included', () => {
    const disk = card();
    apply(inputAt(disk, works, 'record: 2\n'));
    const times = disk.times('/');
    const again = [
      work('games:sill/menu.json', '{"wide":2}\n', '{"wide":2}\n'),
      work('settings:hall/systems/burdock.conf', 'engine: thrush\n', 'engine: thrush\n'),
    ];
    expect(apply(inputAt(disk, again, 'record: 2\n')).value).toEqual({ kind: 'nothing' });
    expect(disk.times('/')).toEqual(times);
  });

  it('refuses a plan that the card has moved on from, and names the files', () => {
    const disk = card();
    disk.plant('/media/settings/hall/play.conf', 'keep-place: off\nsoft: 2\n');
    const before = disk.picture('/media');
    const { value, findings } = apply(inputAt(disk, works, 'record: 2\n'));
    expect(value).toEqual({ kind: 'refused', files: [onCard('settings:hall/play.conf')] });
    expect(findings.map(({ code }) => code)).toEqual(['card-changed-since']);
    expect(disk.picture('/media')).toEqual(before);
  });
});
