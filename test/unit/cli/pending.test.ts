import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
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

interface World {
  readonly folder: string;
  readonly run: (...args: string[]) => Ran;
  /** Makes a bundle. */
  readonly bundle: () => void;
  /** Runs the bundle on the device; its log. */
  readonly onDevice: (...args: string[]) => string;
  readonly record: () => string | undefined;
  readonly kept: () => readonly string[];
}

/** A device of Fen's in a folder, where a bundle is run by the sh of this machine. */
function withDevice(work: (world: World) => void): void {
  inFolder((folder) => {
    const root = join(folder, 'device');
    const mounts = [
      ['games', 'media/games'],
      ['settings', 'opt/sedge'],
    ] as const;
    makeCard(join(folder, 'image'));
    mkdirSync(join(root, 'proc'), { recursive: true });
    for (const [part, at] of mounts) cpSync(join(folder, 'image', part), join(root, at), { recursive: true });
    const cards = join(folder, '.thumbwright/cards');
    const kept = (): readonly string[] => (existsSync(cards) ? readdirSync(cards).sort() : []);
    const run = (...args: string[]): Ran => thumbwright(args, folder, secrets);
    work({
      folder,
      run,
      bundle() {
        const parts = mounts.flatMap(([part, at]) => ['--card', `${part}=device/${at}`]);
        const made = run('write', 'fen', '--bundle', 'fen-bundle.sh', '--saves-may-move', '--same-card', ...parts);
        expect([made.status, made.said]).toEqual([0, expect.any(String)]);
      },
      onDevice(...args) {
        const script = join(root, 'media/games/fen-bundle.sh');
        cpSync(join(folder, 'fen-bundle.sh'), script);
        const ran = spawnSync('sh', [script, ...args], {
          env: { PATH: process.env['PATH'], THUMBWRIGHT_ROOT: root, THUMBWRIGHT_WAIT: 'never', THUMBWRIGHT_SYNC: ':' },
          encoding: 'utf8',
          cwd: '/',
        });
        expect([ran.status, ran.stderr]).toEqual([0, '']);
        rmSync(script);
        const [log = ''] = readdirSync(join(root, 'media/games/thumbwright-bundle'));
        return join('device/media/games/thumbwright-bundle', log);
      },
      record() {
        const name = kept().find((one) => /-[0-9a-f]{16}\.yaml$/.test(one));
        return name === undefined ? undefined : readFileSync(join(cards, name), 'utf8');
      },
      kept,
    });
  });
}

const house = (folder: string, find: string, put: string): void => {
  const path = join(folder, 'profiles/house.yaml');
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(find);
  writeFileSync(path, text.replace(find, put));
};

describe('a bundle that the device took back', () => {
  it('leaves no record where there was none, whether its coming was told before or not', { timeout: 120_000 }, () => {
    withDevice(({ folder, run, bundle, onDevice, record, kept }) => {
      for (const told of [false, true]) {
        rmSync(join(folder, 'device/media/games/thumbwright-bundle'), { recursive: true, force: true });
        bundle();
        expect(record()).toContain('state: pending');
        const log = onDevice();
        if (told) {
          expect(run('fetch', log).out).toContain('nothing is pending any more');
          expect(record()).toContain('state: written');
        }
        onDevice('undo');
        const ran = run('fetch', log);
        expect([ran.status, ran.out]).toEqual([0, expect.stringContaining('taken back on the device')]);
        expect(kept()).toEqual([]);
        // Once is enough.
        expect(run('fetch', log).out).toContain('No bundle is pending that this log tells of.');
      }
    });
  });

  it('gives the record back as it stood, but of files that were changed since', { timeout: 120_000 }, () => {
    withDevice(({ folder, run, bundle, onDevice, record, kept }) => {
      bundle();
      run('fetch', onDevice());
      rmSync(join(folder, 'device/media/games/thumbwright-bundle'), { recursive: true });
      const before = record() ?? '';
      expect(before).toContain('"10000"');

      house(folder, 'write-save-every: 10 s', 'write-save-every: 30 s');
      bundle();
      const log = onDevice();
      expect(run('fetch', log).out).toContain('nothing is pending any more');
      expect(record()).toContain('"30000"');
      onDevice('undo');
      expect(run('fetch', log).out).toContain('the record is again what it was before');
      expect(record()).toBe(before);
      expect(kept()).toHaveLength(1);

      bundle();
      rmSync(join(folder, 'device/media/games/thumbwright-bundle'), { recursive: true });
      onDevice();
      // Not told, and one file is changed on the device so that its lines cannot go back.
      const play = join(folder, 'device/opt/sedge/hall/play.conf');
      writeFileSync(play, readFileSync(play, 'utf8').replace('flush: 30000', 'flush: 30001'));
      const ran = run('fetch', onDevice('undo'));
      expect(ran.out).toContain('changed since and stay:\n  settings:hall/play.conf');
      const after = record() ?? '';
      expect(after).toContain('state: written');
      expect([after.match(/"30000"/g)?.length, after.match(/"10000"/g)?.length]).toEqual([1, 1]);
      expect(kept()).toHaveLength(1);
    });
  });

  it('is not one that another log tells of', { timeout: 120_000 }, () => {
    withDevice(({ folder, run, bundle, onDevice, record }) => {
      bundle();
      const log = onDevice();
      expect(run('fetch', log).status).toBe(0);
      const now = record();
      const path = join(folder, log);
      writeFileSync(
        path,
        readFileSync(path, 'utf8')
          .replace('state: done', 'state: undone')
          .replace(/^seal: .*$/m, `seal: ${'0'.repeat(64)}`),
      );
      expect(run('fetch', log).out).toContain('No bundle is pending that this log tells of.');
      expect(record()).toBe(now);
    });
  });
});

describe('what is kept of a bundle that is under way', () => {
  it('is told with file and line where it is damaged, and nothing is written', { timeout: 120_000 }, () => {
    withDevice(({ folder, run, bundle, onDevice, record, kept }) => {
      bundle();
      const log = onDevice();
      const name = kept().find((one) => one.endsWith('.pending.yaml')) ?? '';
      const path = join(folder, '.thumbwright/cards', name);
      const whole = readFileSync(path, 'utf8');
      const was = record();
      const card = ['--card', 'games=device/media/games', '--card', 'settings=device/opt/sedge'];
      const [line = ''] = whole.split('\n').filter((one) => /^ +syntax: /.test(one));
      const at = whole.split('\n').indexOf(line) + 1;
      for (const [text, where] of [
        [whole.replace(line, line.replace(/syntax: .*/, 'syntax: none-such')), `${name}:${at}:`],
        [whole.slice(0, -12), `${name}:`],
        [whole.replace(/^card: .*$/m, 'card: ffffffffffffffff'), `${name}:1:1`],
      ] as const) {
        writeFileSync(path, text);
        for (const ran of [
          run('write', 'fen', '--yes', '--saves-may-move', ...card),
          run('adopt', 'fen', '--yes', ...card),
          run('fetch', log),
        ]) {
          expect([ran.status, ran.said.replaceAll(/\n */g, ' ')]).toEqual([1, expect.stringContaining('bad-record')]);
          expect(ran.said.replaceAll(/\n */g, '')).toContain(where.replaceAll(' ', ''));
          expect(ran.said.replaceAll(/\n */g, ' ')).toContain('Without a copy, remove it');
        }
        expect(record()).toBe(was);
      }
      rmSync(path);
      const without = run('write', 'fen', '--dry-run', ...card);
      expect([without.status, without.said]).toEqual([0, expect.stringContaining('bad-record')]);
      expect(without.said.replaceAll(/\n */g, ' ')).toContain('write with --take-profile');
      writeFileSync(path, whole);
      expect(run('fetch', log).out).toContain('nothing is pending any more');
    });
  });
});
