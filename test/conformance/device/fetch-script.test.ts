import { spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import {
  chmodSync,
  closeSync,
  constants,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { fetchScript, isTellable, quoteForShell } from '../../../src/device/fetch-script.ts';
import { findRuns } from '../../../src/device/find-runs.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { pressTestPositions } from '../../../src/device/press-order.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { fakeDevice, runOnDevice, snapshot } from '../../support/fake-device.ts';
import type { FakeDevice } from '../../support/fake-device.ts';
import { requireTool } from '../../support/tool.ts';

const base = mkdtempSync(join(tmpdir(), 'thumbwright fetch '));
const mounts: string[] = [];
afterAll(() => {
  for (const mount of mounts) spawnSync('umount', [mount]);
  rmSync(base, { recursive: true, force: true });
});

/** A folder of busybox's own tools and no others: what a small device has. */
function applets(): string {
  const folder = join(base, 'applets');
  mkdirSync(folder);
  spawnSync('busybox', ['--install', '-s', folder]);
  return folder;
}

const withoutBusybox = requireTool('busybox', 'busybox');
const shells = [
  { name: 'dash', shell: ['dash'], missing: requireTool('dash', 'dash'), path: process.env['PATH'] ?? '' },
  { name: 'busybox', shell: ['busybox', 'sh'], missing: withoutBusybox, path: withoutBusybox ? '' : applets() },
];

const script = fetchScript({
  device: 'wren',
  games: "/media/it's games",
  folders: [
    { name: 'settings', path: '/opt/the settings' },
    { name: 'settings/deep folder', path: '/opt/the settings/deep folder' },
    { name: 'games/gone', path: '/opt/gone' },
    { name: 'games', path: "/media/it's games" },
  ],
  coreFolders: ['/opt/the cores'],
  pressTest: ['south', 'east'],
  seconds: 60,
});

function device(name: string, options: Parameters<typeof fakeDevice>[2] = {}): FakeDevice {
  return fakeDevice(join(base, name), script, options);
}

const canMount = ((): boolean => {
  const folder = join(base, 'try');
  const mounted = smallDisk(folder, '16k');
  if (!mounted)
    console.warn('no disk can be mounted here (run as root for that): what fills one up is shown by a cp that fails');
  return mounted;
})();

/** A small file system in memory over a folder; false where that is not allowed (it needs the rights of root). */
function smallDisk(folder: string, size: string): boolean {
  mkdirSync(folder, { recursive: true });
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'none', folder]).status !== 0) return false;
  mounts.push(folder);
  return true;
}

/** A search path on which `cp` is ours; `$REAL` is the one that it stands for. */
function withCp(name: string, path: string, body: string): string {
  const folder = join(base, `${name} tools`);
  mkdirSync(folder);
  const real = path.split(':').find((entry) => existsSync(join(entry, 'cp'))) ?? '';
  writeFileSync(join(folder, 'cp'), `#!/bin/sh\nREAL='${real}/cp'\n${body}\n`);
  chmodSync(join(folder, 'cp'), 0o755);
  return `${folder}:${path}`;
}

describe.each(shells)('the fetch script under $name', ({ name, shell, missing, path }) => {
  it.skipIf(missing)('brings everything, numbered anew each time, and nothing that it brought before', () => {
    const made = device(`${name} all`, { events: new Map([['event0', Buffer.from('0011', 'hex')]]) });
    const before = snapshot(join(made.root, 'opt'));
    for (const number of [1, 2]) {
      const run = runOnDevice(made, shell, { PATH: path });
      expect(run.said).toBe('');
      expect(run.status).toBe(0);
      expect(run.out).toContain('   1. south  of the four buttons on the right, the lowest\n');
      const out = join(made.games, 'thumbwright-fetch', String(number));
      const read = (path: string): string => readFileSync(join(out, path), 'utf8');
      expect(read('files/settings/deep folder/a b.conf')).toBe('x: 1\n');
      expect(readdirSync(join(out, 'files/settings'))).toEqual(['deep folder', 'play.conf']);
      expect(readdirSync(join(out, 'files/games'))).toEqual(['fetch.sh']);
      expect(read('larger.txt')).toMatch(/^== .*\/opt\/the settings\n.* 2097152 .*large\.bin\n$/);
      expect(read('links.txt')).toContain('link.conf');
      expect(read('about.txt')).toMatch(
        /^device: wren\nmade: .*\nword-size: 64\nmachine: .*\ngames: \/media\/it's games\n/,
      );
      expect(read('about.txt')).toContain('folder: settings\t/opt/the settings\n');
      expect(readFileSync(join(out, 'events/event0')).toString('hex')).toBe('0011');
      expect(read('press-order.txt')).toBe('south\neast\n');
      // SHA-1 of 'core' by coreutils.
      const hash = spawnSync('sha1sum', [join(made.root, 'opt/the cores/dunnock core.so')], { encoding: 'utf8' });
      expect(read('cores.txt')).toBe(`4 ${hash.stdout.slice(0, 40)} /opt/the cores/dunnock core.so\n`);
      expect(read('releases.txt')).toContain('== /etc/os-release\nNAME=Sedge\nVERSION_ID=3.2.1\n');
      const done = read('DONE.txt');
      expect(done).toMatch(/^thumbwright fetch \d, \d{4}-\d\d-\d\d \d\d:\d\d by the clock of the device$/m);
      expect(done).toContain('no folder: ');
      // Not a word of a secret in what is shown or listed.
      expect(`${run.out}${done}${read('mounts.txt')}`).not.toContain('s3cret');
      expect(read('mounts.txt')).toContain('/dev/one / ext4 rw 0 0\n');
    }
    expect(readdirSync(join(made.games, 'thumbwright-fetch'))).toEqual(['1', '2', 'DONE.txt', 'press-order.txt']);
    expect(snapshot(join(made.root, 'opt'))).toEqual(before);
  });

  it.skipIf(missing)('tells 32-bit words by the addresses of the program that reads', () => {
    const made = device(`${name} words`, {
      maps: '00010000-00011000 r-xp 00000000 08:01 1 /bin/cat\nbe800000-be821000 rw-p 0 0\n',
    });
    expect(runOnDevice(made, shell, { PATH: path }).status).toBe(0);
    expect(readFileSync(join(made.games, 'thumbwright-fetch/1/about.txt'), 'utf8')).toContain('word-size: 32\n');
  });

  it.skipIf(missing)('writes beside itself when the games part is mounted elsewhere', () => {
    const made = device(`${name} elsewhere`, { games: 'mnt/another card' });
    const run = runOnDevice(made, shell, { PATH: path });
    expect(run.said).toBe('');
    expect(existsSync(join(made.games, 'thumbwright-fetch/1/DONE.txt'))).toBe(true);
  });

  it.skipIf(missing)('leaves a settings part that is mounted read-only as it is', () => {
    const made = device(`${name} read-only`);
    const settings = join(made.root, 'opt');
    // Root writes where it may not; only a file system that is read-only stops it.
    const mounted = spawnSync('mount', ['--bind', '-o', 'ro', settings, settings]).status === 0;
    if (mounted) mounts.push(settings);
    else chmodSync(settings, 0o555);
    const before = snapshot(settings);
    expect(runOnDevice(made, shell, { PATH: path }).status).toBe(0);
    expect(snapshot(settings)).toEqual(before);
    expect(existsSync(join(made.games, 'thumbwright-fetch/1/files/settings/play.conf'))).toBe(true);
  });

  it.skipIf(missing)('takes its half copy away when the games part fills up, and says so there', () => {
    const made = device(`${name} full`);
    const room = join(made.root, 'small');
    // Where no disk may be mounted, a `cp` that fails after the first few files stands for it.
    const count = join(base, `${name} count`);
    const stub = withCp(name, path, `echo >>'${count}'\n[ "$(wc -l <'${count}')" -gt 2 ] && exit 1\nexec "$REAL" "$@"`);
    const real = smallDisk(room, '64k');
    mkdirSync(room, { recursive: true });
    for (let k = 0; k < 40; k++) writeFileSync(join(made.root, 'opt/the settings', `${k}.conf`), 'x'.repeat(4096));
    const run = runOnDevice(made, shell, { THUMBWRIGHT_GAMES: room, PATH: real ? path : stub });
    expect(run.status).toBe(1);
    expect(run.said).toContain('the games part is full');
    expect(readdirSync(join(room, 'thumbwright-fetch'))).toEqual(['DONE.txt', 'press-order.txt']);
    expect(readFileSync(join(room, 'thumbwright-fetch/DONE.txt'), 'utf8')).toContain(
      'NOT done: the games part is full.',
    );
  });

  it.skipIf(missing || !canMount)('fails and leaves nothing where not a byte has room', () => {
    const made = device(`${name} brimful`);
    const room = join(made.root, 'brimful');
    smallDisk(room, '16k');
    spawnSync('dd', ['if=/dev/zero', `of=${join(room, 'all')}`, 'bs=1k'], { stdio: 'ignore' });
    const run = runOnDevice(made, shell, { THUMBWRIGHT_GAMES: room, PATH: path });
    expect(run.status).toBe(1);
    expect(run.said).toContain('the games part is full');
    // A name takes no room on this disk.
    expect(readdirSync(join(room, 'thumbwright-fetch'))).toEqual(['DONE.txt', 'FULL, NOTHING BROUGHT.txt']);
  });

  it.skipIf(missing)('notes a file that cannot be copied for its name, and goes on', () => {
    const made = device(`${name} names`);
    const stub = withCp(`${name} names`, path, 'case $1 in *play.conf) exit 1 ;; esac\nexec "$REAL" "$@"');
    expect(runOnDevice(made, shell, { PATH: stub }).status).toBe(0);
    const done = readFileSync(join(made.games, 'thumbwright-fetch/1/DONE.txt'), 'utf8');
    expect(done).toMatch(/cannot be copied, perhaps for its name: .*play\.conf/);
    expect(existsSync(join(made.games, 'thumbwright-fetch/1/files/settings/deep folder/a b.conf'))).toBe(true);
  });
});

/** An input that is read while something is sent: a pipe by name. `send` holds it open for a few seconds. */
function livePipe(made: FakeDevice): { readonly path: string; readonly send: (octal: string) => ChildProcess } {
  const path = join(made.root, 'dev/input/event4');
  spawnSync('mkfifo', [path]);
  const send = (octal: string): ChildProcess =>
    spawn('sh', ['-c', `exec 3>"$0"; sleep 0.2; printf '${octal}' >&3; exec sleep 4`, path], { stdio: 'ignore' });
  return { path, send };
}

/** Whether anybody still reads a pipe: opening it for writing fails with ENXIO if not (fifo(7)). */
function isRead(path: string): boolean {
  try {
    closeSync(openSync(path, constants.O_WRONLY | constants.O_NONBLOCK));
    return true;
  } catch (error) {
    return !(error instanceof Error && 'code' in error && error.code === 'ENXIO');
  }
}

/** Starts the script for half a minute in a session of its own, and gives it back once the press test runs. */
async function started(made: FakeDevice, shell: readonly string[], path: string): Promise<ChildProcess> {
  const [program = 'sh', ...args] = shell;
  const found = spawnSync('sh', ['-c', `command -v ${program}`], { encoding: 'utf8' }).stdout.trim();
  const env = { ...process.env, THUMBWRIGHT_ROOT: made.root, THUMBWRIGHT_SECONDS: '30', PATH: path };
  const run = spawn(found, [...args, made.script], { env, detached: true, stdio: 'ignore' });
  const about = join(made.games, 'thumbwright-fetch/1.part/cores.txt');
  await expect.poll(() => existsSync(about), { timeout: 10_000 }).toBe(true);
  return run;
}

describe.each(shells)('the fetch script under $name, as it is run', ({ name, shell, missing, path }) => {
  it.skipIf(missing)('needs no execute bit and nobody who listens, and takes what is sent while it runs', () => {
    const made = device(`${name} live`);
    expect(statSync(made.script).mode & 0o111).toBe(0);
    const { path: pipe, send } = livePipe(made);
    const sender = send('\\001\\002\\377');
    // The reader of its output is gone before it says anything.
    runOnDevice(made, ['sh', '-c', `(sleep 0.1; exec ${shell.at(-1)} "$0") | :`], { PATH: path });
    const out = join(made.games, 'thumbwright-fetch/1');
    expect(existsSync(join(out, 'DONE.txt'))).toBe(true);
    expect(readFileSync(join(out, 'events/event4')).toString('hex')).toBe('0102ff');
    expect(isRead(pipe)).toBe(false);
    sender.kill();
  });

  it.skipIf(missing)('takes its half copy and its readers away when it is stopped', async () => {
    const made = device(`${name} stopped`);
    const { path: pipe, send } = livePipe(made);
    const sender = send('\\001');
    const run = await started(made, shell, path);
    const ended = new Promise((resolve) => run.once('exit', resolve));
    expect(isRead(pipe)).toBe(true);
    run.kill('SIGTERM');
    expect(await ended).toBe(1);
    expect(readdirSync(join(made.games, 'thumbwright-fetch'))).toEqual(['press-order.txt']);
    expect(isRead(pipe)).toBe(false);
    sender.kill();
  });

  it.skipIf(missing)(
    'leaves no copy that looks whole when the power goes, and takes the next number then',
    async () => {
      const made = device(`${name} power`);
      const run = await started(made, shell, path);
      const ended = new Promise((resolve) => run.once('exit', resolve));
      process.kill(-(run.pid ?? 0), 'SIGKILL');
      await ended;
      expect(readdirSync(join(made.games, 'thumbwright-fetch'))).toEqual(['1.part', 'press-order.txt']);
      expect(existsSync(join(made.games, 'thumbwright-fetch/1.part/DONE.txt'))).toBe(false);
      expect(runOnDevice(made, shell, { PATH: path }).status).toBe(0);
      expect(readdirSync(join(made.games, 'thumbwright-fetch'))).toEqual([
        '1.part',
        '2',
        'DONE.txt',
        'press-order.txt',
      ]);
      expect(findRuns(nodeFiles, hostPath(made.games)).cutOff).toEqual(['1.part']);
    },
  );

  it.skipIf(missing)('takes no second line of a name for a path', () => {
    const made = device(`${name} lines`);
    mkdirSync(join(made.root, 'opt/the settings/a\n..'), { recursive: true });
    writeFileSync(join(made.root, 'opt/the settings/a\n../secret'), 'x');
    writeFileSync(join(made.root, 'opt/secret'), 'outside');
    const run = runOnDevice(made, shell, { PATH: path });
    expect(run.status).toBe(0);
    const out = join(made.games, 'thumbwright-fetch/1');
    const brought = readdirSync(out, { recursive: true, encoding: 'utf8' });
    expect(brought.filter((one) => one.endsWith('secret'))).toEqual([]);
    expect(readFileSync(join(out, 'DONE.txt'), 'utf8')).toMatch(/cannot be read: .*the settings\/\.\/a$/m);
  });

  it.skipIf(missing || !canMount)('says so when the games part is read-only, and so is its own folder', () => {
    const made = device(`${name} games read-only`);
    expect(spawnSync('mount', ['--bind', '-o', 'ro', made.games, made.games]).status).toBe(0);
    mounts.push(made.games);
    const run = runOnDevice(made, shell, { PATH: path });
    expect(run.status).toBe(1);
    expect(run.said).toMatch(/^thumbwright: nothing can be written to .*: it is full or read-only\n$/);
    expect(readdirSync(made.games)).toEqual(['fetch.sh']);
  });
});

describe('the text of the fetch script', () => {
  it.skipIf(requireTool('shellcheck', 'shellcheck'))('gives shellcheck nothing to say', () => {
    const run = spawnSync('shellcheck', ['--shell=sh', '--norc', '-'], { input: script, encoding: 'utf8' });
    expect(run.stdout).toBe('');
    expect(run.status).toBe(0);
  });

  it('has LF lines, and quotes whatever a path holds', () => {
    expect(script).not.toContain('\r');
    for (const text of ["it's", '$(touch x)', '`x`', 'a\nb', '-n', '', '$&']) {
      const run = spawnSync('sh', ['-c', `printf '%s' ${quoteForShell(text)}`], { encoding: 'utf8' });
      expect(run.stdout).toBe(text);
    }
    expect(['/a b', 'a', '/a\nb', '/a\tb'].map(isTellable)).toEqual([true, false, false, false]);
  });

  it('asks for positions that there are, and never for what ends the test', () => {
    expect(pressTestPositions.filter((position) => !positions.some((one) => one === position))).toEqual([]);
    const left = positions.filter((position) => !pressTestPositions.includes(position));
    expect(left.filter((position) => !position.startsWith('extra-'))).toEqual(['power', 'lid']);
  });
});
