import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeCard } from '../../support/demo-card.ts';
import { makeEmptyRoot, noEmptyRoot } from '../../support/empty-root.ts';
import { requireTool } from '../../support/tool.ts';

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};
const which = (name: string): string =>
  spawnSync('sh', ['-c', `command -v ${name}`], { encoding: 'utf8' }).stdout.trim();
const busybox = which('busybox');
const [setsid, chroot] = [which('setsid'), which('chroot')];

/** Every file below a folder, without what a bundle keeps and logs; `id`: the card's id, which is drawn anew. */
function texts(folder: string, id: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const visit = (at: string): void => {
    for (const entry of readdirSync(at, { withFileTypes: true })) {
      const path = join(at, entry.name);
      if (/^\.?thumbwright-(bundle|fetch)$|\.sh$/.test(entry.name) && entry.name !== 'begin.sh') continue;
      if (entry.isDirectory()) visit(path);
      else
        found.set(
          relative(folder, path),
          `${(statSync(path).mode & 0o777).toString(8)}\n${readFileSync(path, 'latin1').replaceAll(id, 'ID')}`,
        );
    }
  };
  visit(folder);
  return found;
}

/** `beside`: below a folder of this system, by busybox's tools; `empty`: in a root that holds nothing else. */
type Root = 'beside' | 'empty';

/** A device of Fen's whose tools are busybox's alone; and a workspace that has fetched its files. */
function withDevice(
  kind: Root,
  work: (
    folder: string,
    run: (...args: string[]) => ReturnType<typeof thumbwright>,
    onDevice: (script: string, ...args: string[]) => ReturnType<typeof spawnSync>,
  ) => void,
): void {
  inFolder((folder) => {
    const root = join(folder, 'device');
    makeCard(join(folder, 'image'));
    mkdirSync(join(root, 'media'), { recursive: true });
    mkdirSync(join(root, 'opt'), { recursive: true });
    mkdirSync(join(root, 'proc'));
    cpSync(join(folder, 'image/games'), join(root, 'media/games'), { recursive: true });
    cpSync(join(folder, 'image/settings'), join(root, 'opt/sedge'), { recursive: true });
    const applets = join(folder, 'applets');
    if (kind === 'empty') expect(makeEmptyRoot(root)).toBe(true);
    else {
      mkdirSync(applets);
      spawnSync(busybox, ['--install', '-s', applets]);
    }
    const run = (...args: string[]): ReturnType<typeof thumbwright> => thumbwright(args, folder, secrets);
    const onDevice = (script: string, ...args: string[]): ReturnType<typeof spawnSync> => {
      cpSync(join(folder, script), join(root, 'media/games', script));
      if (kind === 'empty')
        return spawnSync(setsid, ['-w', chroot, root, '/bin/busybox', 'sh', `/media/games/${script}`, ...args], {
          env: { PATH: '/bin', THUMBWRIGHT_SECONDS: '0', THUMBWRIGHT_WAIT: 'never' },
          encoding: 'utf8',
          cwd: '/',
        });
      return spawnSync(setsid, ['-w', busybox, 'sh', join(root, 'media/games', script), ...args], {
        env: {
          PATH: applets,
          THUMBWRIGHT_ROOT: root,
          THUMBWRIGHT_SECONDS: '0',
          THUMBWRIGHT_WAIT: 'never',
          THUMBWRIGHT_SYNC: ':',
        },
        encoding: 'utf8',
        cwd: '/',
      });
    };
    const bring = (): void => {
      expect(run('fetch', 'fen', '--script', 'bring.sh').status).toBe(0);
      expect(onDevice('bring.sh').status).toBe(0);
      const fetched = run('fetch', 'device/media/games/thumbwright-fetch');
      expect(fetched.said).not.toContain('Error');
    };
    bring();
    work(folder, run, onDevice);
  });
}

const bundled = ['write', 'fen', '--bundle', 'fen-bundle.sh', '--saves-may-move'] as const;

function idOf(folder: string): string {
  const name = readdirSync(join(folder, '.thumbwright/cards')).find((one) => /-[0-9a-f]{16}\.yaml$/.test(one)) ?? '';
  return name.slice(-21, -5);
}

const noBusybox = requireTool('busybox', 'busybox');

describe.skipIf(noBusybox).each(['beside', 'empty'] as const)(
  'a bundle of the demo, under busybox alone: %s root',
  (kind) => {
    it.skipIf(kind === 'empty' && noEmptyRoot())(
      'gives the same bytes as a direct write; fetched, nothing is left to do; undone, all is as it was',
      { timeout: 120_000 },
      () => {
        withDevice(kind, (folder, run, onDevice) => {
          const root = join(folder, 'device');
          const before = [texts(join(root, 'media/games'), ''), texts(join(root, 'opt/sedge'), '')];
          const made = run(...bundled);
          expect(made.said).toContain('Parts that were not given');
          expect(made.status).toBe(0);
          expect(made.out).toContain('passwords included');
          expect(statSync(join(folder, 'fen-bundle.sh')).mode & 0o777).toBe(0o600);
          const id = idOf(folder);
          const record = (): string => readFileSync(join(folder, `.thumbwright/cards/fen-${id}.yaml`), 'utf8');
          const pending = join(folder, `.thumbwright/cards/fen-${id}.pending.yaml`);
          expect(record()).toContain('state: pending');
          for (const secret of Object.values(secrets))
            expect(record() + readFileSync(pending, 'utf8') + made.out + made.said).not.toContain(secret);

          expect(onDevice('fen-bundle.sh')).toMatchObject({ status: 0, stderr: '' });

          // The same image, written directly by another workspace.
          const card = join(folder, 'image');
          const direct = inFolder((other) => {
            const ran = thumbwright(['write', 'fen', '--yes', '--saves-may-move', '--card', card], other, secrets);
            expect(ran.status).toBe(0);
            return idOf(other);
          });
          expect(texts(join(root, 'media/games'), id)).toEqual(texts(join(card, 'games'), direct));
          expect(texts(join(root, 'opt/sedge'), id)).toEqual(texts(join(card, 'settings'), direct));

          expect(onDevice('bring.sh').status).toBe(0);
          const fetched = run('fetch', 'device/media/games/thumbwright-fetch');
          expect(fetched.out).toContain('nothing is pending any more');
          expect(record()).toContain('state: written');
          expect(existsSync(pending)).toBe(false);
          const dry = run('write', 'fen', '--dry-run', '--card', '.thumbwright/private/fetched/fen/2/files');
          expect(dry.out).toContain('nothing is to be written');
          expect(dry.out).not.toContain('changed the card');

          expect(onDevice('fen-bundle.sh', 'undo')).toMatchObject({ status: 0, stderr: '' });
          expect([texts(join(root, 'media/games'), ''), texts(join(root, 'opt/sedge'), '')]).toEqual(before);
        });
      },
    );
  },
);

describe.skipIf(noBusybox)('a bundle of the demo', () => {
  it(
    'is pending until its log says otherwise, and planned anew as long as it is not there',
    { timeout: 240_000 },
    () => {
      withDevice('beside', (folder, run, onDevice) => {
        expect(run(...bundled).status).toBe(0);
        const id = idOf(folder);
        const record = (): string => readFileSync(join(folder, `.thumbwright/cards/fen-${id}.yaml`), 'utf8');
        // It was not started yet: what was fetched says so, and the next one is made of the same.
        const first = readFileSync(join(folder, 'fen-bundle.sh'), 'latin1');
        const again = run(...bundled, '--same-card');
        expect(again.status).toBe(0);
        expect(idOf(folder)).toBe(id);
        expect(readFileSync(join(folder, 'fen-bundle.sh'), 'latin1')).toBe(first);
        expect(record()).toContain('state: pending');
        expect(onDevice('fen-bundle.sh').status).toBe(0);
        const logs = 'device/media/games/thumbwright-bundle';
        const [log = ''] = readdirSync(join(folder, logs));
        const told = run('fetch', join(logs, log));
        expect(told.out).toContain('nothing is pending any more');
        expect(record()).toContain('state: written');

        // What was fetched is older than that: ours would look like a change by hand, and the next bundle leave it.
        const house = join(folder, 'profiles/house.yaml');
        writeFileSync(house, readFileSync(house, 'utf8').replace('write-save-every: 10 s', 'write-save-every: 30 s'));
        const early = run(...bundled, '--same-card');
        expect([early.status, early.said]).toEqual([1, expect.stringContaining('older than the bundle')]);
        expect(readFileSync(join(folder, 'fen-bundle.sh'), 'latin1')).toBe(first);
        expect(onDevice('bring.sh').status).toBe(0);
        expect(run('fetch', 'device/media/games/thumbwright-fetch').status).toBe(0);
        expect(run(...bundled, '--same-card').status).toBe(0);
        expect(onDevice('fen-bundle.sh')).toMatchObject({ status: 0, stderr: '' });
        const play = readFileSync(join(folder, 'device/opt/sedge/hall/play.conf'), 'utf8');
        expect(play).toContain('flush: 30000');
      });
    },
  );

  it('makes no bundle where a name does not fit, and writes to no copy of a card', () => {
    withDevice('beside', (_folder, run) => {
      expect(run('write', 'fen', '--bundle', 'x.txt', '--saves-may-move')).toMatchObject({ status: 2 });
      const copy = run('write', 'fen', '--yes', '--card', '.thumbwright/private/fetched/fen/1/files');
      expect(copy.status).toBe(2);
      expect(copy.said).toContain('not the card itself');
    });
  });
});
