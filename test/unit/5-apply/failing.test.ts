import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { recover } from '../../../src/5-apply/recover.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import type { DiskTrouble } from '../../../src/files/disk.ts';
import { inputAt, onCard, placeAt, sha, work } from '../../support/apply-world.ts';
import { BreakingDisk } from '../../support/breaking-disk.ts';

const works = [
  work('games:sill/menu.json', '{"wide":1}\n', '{"wide":2}\n'),
  work('games:sill/old.json', '{}\n', null),
  work('settings:hall/play.conf', 'soft: 1\n', 'soft: 2\n'),
  work('settings:hall/systems/burdock.conf', null, 'engine: thrush\n'),
];

function card(): BreakingDisk {
  const disk = new BreakingDisk();
  disk.plant('/media/games/sill/menu.json', '{"wide":1}\n');
  disk.plant('/media/games/sill/old.json', '{}\n');
  disk.plant('/media/settings/hall/play.conf', 'soft: 1\n');
  disk.plant('/home/.thumbwright/cards/fen-1.yaml', 'record: 1\n');
  return disk;
}

function picture(disk: BreakingDisk): string {
  return JSON.stringify([...disk.picture('/media'), ...disk.picture('/home/.thumbwright/cards')]);
}

const old = picture(card());
const fresh = ((): string => {
  const disk = card();
  apply(inputAt(disk, works, 'record: 2\n'));
  return picture(disk);
})();

/** Not ENOENT: a disk that says once of a file that it is not there is believed. Of a folder that is gone, see below. */
const troubles: readonly [string, DiskTrouble][] = [
  ['EIO', 'failed'],
  ['ENOSPC', 'no-space'],
  ['EROFS', 'read-only'],
  ['EACCES', 'denied'],
];

describe.each(troubles)('%s once, at every call of the disk, one after another', (_, trouble) => {
  it('a write says in which state it left the card, and that is the state', () => {
    let states = 0;
    for (let at = 1; ; at++) {
      const disk = card();
      disk.breakage = { kind: 'fail', at, trouble };
      const { value, findings } = apply(inputAt(disk, works, 'record: 2\n'));
      if (disk.calls < at) break;
      disk.breakage = { kind: 'none' };
      const now = picture(disk);
      if (value.kind === 'done') expect(now, `failed at call ${at}`).toBe(fresh);
      else if (value.kind === 'refused') expect(now, `failed at call ${at}`).toBe(old);
      else {
        if (value.kind !== 'failed') throw new Error(`call ${at}: ${value.kind}`);
        states += 1;
        expect(findings.some(({ grade }) => grade === 'error')).toBe(true);
        if (value.state === 'all-old') expect(now, `failed at call ${at}`).toBe(old);
        expect(value.command).toBe(
          `thumbwright ${value.state === 'recover-needed' ? 'undo' : 'write'} fen --card games`,
        );
      }
      recover(placeAt(disk));
      expect([old, fresh], `recovered after call ${at}`).toContain(picture(disk));
      if (picture(disk) === old) expect(apply(inputAt(disk, works, 'record: 2\n')).value.kind).toBe('done');
      expect(picture(disk), `written again after call ${at}`).toBe(fresh);
    }
    expect(states).toBeGreaterThan(40);
  });

  it('an undo as well', () => {
    for (let at = 1; ; at++) {
      const disk = card();
      apply(inputAt(disk, works, 'record: 2\n'));
      disk.calls = 0;
      disk.breakage = { kind: 'fail', at, trouble };
      const { value } = undo(placeAt(disk));
      if (disk.calls < at) break;
      disk.breakage = { kind: 'none' };
      if (value.kind === 'done') expect(picture(disk), `failed at call ${at}`).toBe(old);
      recover(placeAt(disk));
      expect([old, fresh], `recovered after call ${at}`).toContain(picture(disk));
    }
  });
});

describe('a card whose folder is gone from some call on', () => {
  it('can be mended once it is back', () => {
    let needed = 0;
    for (let at = 1; ; at++) {
      const disk = card();
      disk.breakage = { kind: 'vanish', at, below: '/media' };
      const { value, findings } = apply(inputAt(disk, works, 'record: 2\n'));
      if (disk.calls < at) break;
      if (value.kind === 'done') {
        disk.breakage = { kind: 'none' };
        expect(picture(disk)).toBe(fresh);
        continue;
      }
      if (value.kind === 'failed' && value.state === 'recover-needed') {
        needed += 1;
        expect(findings.map(({ code }) => code)).toContain('card-failed');
        // Still gone: nothing is made up in its place.
        const gone = recover(placeAt(disk));
        expect(gone.value.kind, `vanished at call ${at}`).toBe('failed');
      }
      disk.breakage = { kind: 'none' };
      recover(placeAt(disk));
      expect([old, fresh], `vanished at call ${at}`).toContain(picture(disk));
    }
    expect(needed).toBeGreaterThan(10);
  });
});

describe('what is found in the way', () => {
  it('a full card is taken back to what it was, and said to be full', () => {
    const disk = new BreakingDisk({ free: 2000 });
    disk.plant('/media/games/a', 'a');
    const before = [...disk.picture('/media')];
    const { value, findings } = apply(inputAt(disk, [work('games:b', null, 'b'.repeat(3000))], 'record: 1\n'));
    expect(value).toMatchObject({ kind: 'failed', state: 'all-old' });
    expect(findings.map(({ code }) => code)).toEqual(['not-enough-room']);
    expect([...disk.picture('/media')]).toEqual(before);
  });

  it('a card that can only be read', () => {
    const disk = card();
    const plain = disk.writeNew.bind(disk);
    disk.writeNew = (path, bytes, ownership) =>
      path.startsWith('/media')
        ? { kind: 'failed', trouble: 'read-only', why: 'the file system is read-only' }
        : plain(path, bytes, ownership);
    const { value, findings } = apply(inputAt(disk, works.slice(0, 1), 'record: 2\n'));
    expect(value).toMatchObject({ kind: 'failed', state: 'all-old' });
    expect(findings.map(({ code }) => code)).toEqual(['card-read-only']);
    expect(picture(disk)).toBe(old);
  });

  it('a workspace that cannot be written: nothing on the card is touched', () => {
    const disk = card();
    disk.plant('/home/.thumbwright/private', 'a file where the folder is to be');
    const { value, findings } = apply(inputAt(disk, works, 'record: 2\n'));
    expect(value).toMatchObject({ kind: 'failed', state: 'all-old' });
    expect(findings.map(({ code }) => code)).toEqual(['workspace-failed']);
    expect(picture(disk)).toBe(old);
  });

  it('another process at work, and one that is no more', () => {
    const disk = card();
    disk.plant('/home/.thumbwright/private/cards/fen-1/lock-7', '');
    const busy = apply({ ...inputAt(disk, works, 'record: 2\n'), isAlive: (pid) => pid === 7 });
    expect(busy.value).toEqual({ kind: 'locked' });
    expect(busy.findings.map(({ code }) => code)).toEqual(['locked-by-another']);
    expect(picture(disk)).toBe(old);
    const gone = apply(inputAt(disk, works, 'record: 2\n'));
    expect(gone.value.kind).toBe('done');
    expect(gone.findings.map(({ code }) => code)).toEqual(['lock-taken-over']);
    expect(disk.list(placeAt(disk).store)).toEqual({ kind: 'names', names: ['texts', 'turns'] });
  });

  it('a file changed by hand after a write was killed stays, and is named', () => {
    const disk = card();
    for (let at = 1; ; at++) {
      const trial = card();
      trial.breakage = { kind: 'kill', at };
      try {
        apply(inputAt(trial, works, 'record: 2\n'));
        break;
      } catch {
        trial.breakage = { kind: 'none' };
      }
      trial.plant('/media/settings/hall/play.conf', 'soft: 3\n');
      const { value, findings } = recover(placeAt(trial));
      expect(trial.read(placeAt(trial).disk.join(placeAt(trial).store, '/media/settings/hall/play.conf')).kind).toBe(
        'failed',
      );
      expect(trial.picture('/media/settings/hall/play.conf').get('')).toBe('644 soft: 3\n');
      if (value.kind !== 'all-old') continue;
      expect(value.changed).toEqual([onCard('settings:hall/play.conf')]);
      expect(findings.map(({ code }) => code)).toContain('hand-change-stays');
    }
    expect(picture(disk)).toBe(old);
  });

  it('links: followed inside the part, refused outside or to nowhere', () => {
    const disk = card();
    disk.plant('/media/settings/shared/menu.conf', 'soft: 1\n');
    disk.plant('/etc/menu.conf', 'soft: 1\n');
    disk.plantLink('/media/settings/inside', 'shared');
    disk.plantLink('/media/settings/inside.conf', 'shared/menu.conf');
    disk.plantLink('/media/settings/outside.conf', '/etc/menu.conf');
    disk.plantLink('/media/settings/nowhere.conf', 'missing.conf');
    disk.plantLink('/media/settings/up', '../../etc');
    const one = (path: string): ReturnType<typeof apply> =>
      apply(inputAt(disk, [work(path, 'soft: 1\n', 'soft: 2\n')], 'record: 2\n'));
    for (const path of ['settings:outside.conf', 'settings:nowhere.conf', 'settings:up/menu.conf']) {
      const { value, findings } = one(path);
      expect(value).toEqual({ kind: 'refused', files: [onCard(path)] });
      expect(findings.map(({ code }) => code)).toEqual(['link-leaves-part']);
    }
    const both = apply(
      inputAt(
        disk,
        [work('settings:inside/menu.conf', 'soft: 1\n', 'a'), work('settings:inside.conf', 'soft: 1\n', 'b')],
        'x',
      ),
    );
    expect(both.findings.map(({ code }) => code)).toEqual(['link-joins-files']);
    expect(one('settings:inside.conf').value.kind).toBe('done');
    expect(disk.picture('/media/settings/shared/menu.conf').get('')).toBe('644 soft: 2\n');
    expect(disk.picture('/media/settings/inside.conf').get('')).toBe('-> shared/menu.conf');
    expect(disk.picture('/etc/menu.conf').get('')).toBe('644 soft: 1\n');
  });

  it('a folder where the file is to be, and a part that was not named', () => {
    const disk = card();
    const folder = apply(inputAt(disk, [work('settings:hall', null, 'x')], 'record: 2\n'));
    expect(folder.findings.map(({ code }) => code)).toEqual(['card-changed-since']);
    const below = apply(inputAt(disk, [work('settings:hall/play.conf/x', null, 'x')], 'record: 2\n'));
    expect(below.findings.map(({ code }) => code)).toEqual(['card-changed-since']);
    const part = apply(inputAt(disk, [work('saves:hall', null, 'x')], 'record: 2\n'));
    expect(part.findings.map(({ code }) => code)).toEqual(['card-failed']);
    expect(picture(disk)).toBe(old);
  });

  it('a file system without owners and modes is no error, and a mode that was asked for is missed', () => {
    const disk = new BreakingDisk({ foldsCase: true, keepsOwnership: false });
    disk.plant('/media/games/Menu.json', '1');
    const { value, findings } = apply(
      inputAt(
        disk,
        [work('games:menu.json', '1', '2'), work('games:wifi/x', null, 'y', { mode: 0o600 })],
        'record: 2\n',
      ),
    );
    expect(value.kind).toBe('done');
    expect(findings.map(({ code }) => code)).toEqual(['not-kept-mode']);
    expect(findings[0]?.detail).toContain('games:wifi/x');
  });

  it('secrets: a fingerprint by key is held against what the card has', () => {
    const disk = card();
    const input = inputAt(disk, [], 'record: 2\n');
    const keyed = { ...work('settings:hall/play.conf', null, 'soft: 2\n'), expected: { keyed: true, hash: 'by key' } };
    const applied = apply({
      ...input,
      works: [keyed],
      fingerprint: (bytes, byKey) => (byKey && Buffer.from(bytes).toString() === 'soft: 1\n' ? 'by key' : sha(bytes)),
    });
    expect(applied.value.kind).toBe('done');
  });
});
