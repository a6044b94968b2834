import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import type { Ran } from '../../support/cli.ts';
import { makeCard } from '../../support/demo-card.ts';

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};
const card = ['--card', 'games=device/media/games', '--card', 'settings=device/opt/sedge'];

/** A device of Fen's that was written once, and a plan that is kept of a profile changed since. */
function withPlan(work: (folder: string, run: (...args: string[]) => Ran, play: string) => void): void {
  inFolder((folder) => {
    makeCard(join(folder, 'image'));
    mkdirSync(join(folder, 'device/proc'), { recursive: true });
    cpSync(join(folder, 'image/games'), join(folder, 'device/media/games'), { recursive: true });
    cpSync(join(folder, 'image/settings'), join(folder, 'device/opt/sedge'), { recursive: true });
    const run = (...args: string[]): Ran => thumbwright(args, folder, secrets);
    expect(run('write', 'fen', '--yes', '--saves-may-move', '--new-card', ...card).status).toBe(0);
    const house = join(folder, 'profiles/house.yaml');
    writeFileSync(house, readFileSync(house, 'utf8').replace('write-save-every: 10 s', 'write-save-every: 30 s'));
    expect(run('write', 'fen', '--plan', 'fen-plan.json', ...card).status).toBe(0);
    work(folder, run, join(folder, 'device/opt/sedge/hall/play.conf'));
  });
}

describe('a plan that was kept, as a bundle', () => {
  it('is the bundle that was to be made then, and leaves the card alone', { timeout: 120_000 }, () => {
    withPlan((folder, run, play) => {
      const before = readFileSync(play, 'latin1');
      const made = run('write', 'fen-plan.json', '--bundle', 'kept.sh', '--saves-may-move', ...card);
      expect([made.status, made.said]).toEqual([0, '']);
      expect(made.out).toContain('the record says pending');
      expect(readFileSync(play, 'latin1')).toBe(before);
      expect(run('write', 'fen', '--bundle', 'now.sh', '--saves-may-move', ...card).status).toBe(0);
      const text = readFileSync(join(folder, 'kept.sh'), 'latin1');
      expect(text).toBe(readFileSync(join(folder, 'now.sh'), 'latin1'));

      const root = join(folder, 'device');
      cpSync(join(folder, 'kept.sh'), join(root, 'media/games/kept.sh'));
      const ran = spawnSync('sh', [join(root, 'media/games/kept.sh')], {
        env: { PATH: process.env['PATH'], THUMBWRIGHT_ROOT: root, THUMBWRIGHT_WAIT: 'never', THUMBWRIGHT_SYNC: ':' },
        encoding: 'utf8',
        cwd: '/',
      });
      expect([ran.status, ran.stderr]).toEqual([0, '']);
      expect(readFileSync(play, 'latin1')).toContain('flush: 30000');
      const logs = 'device/media/games/thumbwright-bundle';
      const told = run('fetch', join(logs, readdirSync(join(folder, logs))[0] ?? ''));
      expect(told.out).toContain('nothing is pending any more');
      expect(run('write', 'fen', '--dry-run', ...card).out).toContain('nothing is to be written');
    });
  });

  it('is made of what was fetched, where no desktop can reach the card', { timeout: 120_000 }, () => {
    withPlan((folder, run) => {
      const fetched = join(folder, '.thumbwright/private/fetched/fen/1');
      cpSync(join(folder, 'device/media/games'), join(fetched, 'files/games'), { recursive: true });
      cpSync(join(folder, 'device/opt/sedge'), join(fetched, 'files/settings'), { recursive: true });
      writeFileSync(join(fetched, 'DONE.txt'), '');
      const made = run('write', 'fen-plan.json', '--bundle', 'kept.sh', '--saves-may-move');
      expect([made.status, made.said]).toEqual([0, expect.stringContaining('Parts that were not given')]);
      expect(run('write', 'fen', '--bundle', 'now.sh', '--saves-may-move', ...card).status).toBe(0);
      expect(readFileSync(join(folder, 'kept.sh'), 'latin1')).toBe(readFileSync(join(folder, 'now.sh'), 'latin1'));
    });
  });

  it(
    'is refused file by file where the card has changed since, and where no profile tells of it',
    { timeout: 120_000 },
    () => {
      withPlan((folder, run, play) => {
        const text = readFileSync(play, 'utf8');
        writeFileSync(play, `${text}by-hand: 1\n`);
        const stale = run('write', 'fen-plan.json', '--bundle', 'kept.sh', '--saves-may-move', ...card);
        expect([stale.status, stale.said]).toEqual([1, expect.stringContaining('card-changed-since')]);
        expect(stale.said.replaceAll(/\s+/g, ' ')).toContain('settings:hall/play.conf is no longer as it was');
        writeFileSync(play, text);
        for (const [args, what] of [
          [['--bundle', 'kept.txt', '--saves-may-move', ...card], 'ends in .sh'],
          [['--bundle', 'kept.sh', '--saves-may-move'], 'say where each is mounted'],
        ] as const) {
          const ran = run('write', 'fen-plan.json', ...args);
          expect([ran.status, ran.said]).toEqual([2, expect.stringContaining(what)]);
        }
        const profile = join(folder, 'profiles/fen.yaml');
        writeFileSync(profile, readFileSync(profile, 'utf8').replace('profile: fen', 'profile: fern'));
        const strange = run('write', 'fen-plan.json', '--bundle', 'kept.sh', '--saves-may-move', ...card);
        expect([strange.status, strange.said]).toEqual([2, expect.stringContaining('no profile of fen here')]);
        expect(existsSync(join(folder, 'kept.sh'))).toBe(false);
      });
    },
  );
});
