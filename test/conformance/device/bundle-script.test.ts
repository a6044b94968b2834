import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { cksum } from '../../../src/device/cksum.ts';
import {
  bundleFile,
  deviceFor,
  ini,
  json,
  logOf,
  makeBundle,
  onDevice,
  pairs,
  picture,
  runBundle,
} from '../../support/bundle-world.ts';
import { requireTool } from '../../support/tool.ts';

const base = mkdtempSync(join(tmpdir(), 'thumbwright bundle '));
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

/** A folder of busybox's own tools and no others: what a small device has. */
function applets(): string {
  const folder = join(base, 'applets');
  mkdirSync(folder);
  spawnSync('busybox', ['--install', '-s', folder]);
  return folder;
}

const noBusybox = requireTool('busybox', 'busybox');
const own = process.env['PATH'] ?? '';
const busybox = spawnSync('sh', ['-c', 'command -v busybox'], { encoding: 'utf8' }).stdout.trim();
const dash = spawnSync('sh', ['-c', 'command -v dash'], { encoding: 'utf8' }).stdout.trim();
const shells = [
  { name: 'dash', shell: [dash], missing: requireTool('dash', 'dash'), path: own },
  { name: 'busybox', shell: [busybox, 'sh'], missing: noBusybox, path: noBusybox ? '' : applets() },
];

async function until(holds: () => boolean): Promise<void> {
  for (let tries = 0; tries < 200 && !holds(); tries += 1) await sleep(100);
  expect(holds()).toBe(true);
}

const play = 'sound: on\nvolume: 5\npace: 1\n';
const files = [
  bundleFile(
    'games:sill/shelf.json',
    '{\n  "look": {\n    "cloth": "linen",\n    "age": 4\n  }\n}\n',
    '{\n  "look": {\n    "cloth": "felt",\n    "age": 4\n  }\n}\n',
    { scheme: json },
  ),
  bundleFile("settings:hall/it's $(x) b.conf", play, 'sound: off\nvolume: 5\npace: 1\nglow: yes\n', { scheme: pairs }),
  bundleFile('settings:sedge.ini', '[a]\nx = 1\n\n[b]\nx = 1', '[a]\nx = 2\n\n[b]\nx = 1\ny = 3', { scheme: ini }),
  bundleFile('settings:wifi/deep/r\u00e4um.net', undefined, 'psk=100%\\ of "it"\n-end', { mode: 0o600, owner: 'root' }),
  bundleFile('settings:begin.sh', 'old\n', Buffer.from(Array.from({ length: 256 }, (_, at) => at)).toString('latin1'), {
    mode: 0o755,
  }),
  bundleFile('settings:gone.txt', 'bye', undefined),
];
const bundle = makeBundle(files);

describe.each(shells)('a bundle under $name', ({ name, shell, missing, path }) => {
  const env = { PATH: path };
  const device = (what: string, also = {}): { readonly root: string; readonly script: string } => {
    const root = join(base, `${name} ${what}`);
    return { root, script: deviceFor(root, files, bundle, also) };
  };

  it.skipIf(missing)('writes every file byte by byte, once; its undo takes all of it back', () => {
    const { root, script } = device('all');
    const before = picture(root);
    const run = runBundle(shell, root, script, [], env);
    expect(run.said).toBe('');
    expect(run.status).toBe(0);
    for (const file of files) {
      const at = onDevice(root, file.path);
      if (file.after === undefined) expect(existsSync(at)).toBe(false);
    }
    expect(readFileSync(join(root, 'opt/the settings/begin.sh')).equals(Buffer.from(files[4]?.after ?? []))).toBe(true);
    for (const file of files.filter((one) => one.after !== undefined)) {
      const at = onDevice(root, Buffer.from(file.path, 'utf8').toString('utf8'));
      expect(readFileSync(at, 'latin1'), file.path).toBe(Buffer.from(file.after ?? []).toString('latin1'));
      if (file.mode !== undefined) expect(statSync(at).mode & 0o777).toBe(file.mode);
    }
    const log = logOf(root, bundle);
    expect(log).toMatch(/^state: done$/m);
    expect(log.match(/^file: done /gm)).toHaveLength(files.length);
    expect(log).not.toContain('psk');
    const written = picture(root);
    expect(runBundle(shell, root, script, [], env).status).toBe(0);
    expect(picture(root)).toBe(written);
    // A menu hands no words over: the script beside it is the way back.
    const back = script.replace(/\.sh$/, '-undo.sh');
    expect(runBundle(shell, root, back, [], env)).toMatchObject({ status: 0, said: '' });
    expect(picture(root)).toBe(before);
    expect(logOf(root, bundle)).toMatch(/^state: undone$/m);
  });

  it.skipIf(missing)('checks its own lines and keeps what others changed, and so does its undo', () => {
    const { root, script } = device('others');
    const conf = onDevice(root, files[1]?.path ?? '');
    writeFileSync(conf, 'new: 1\nsound: on\nvolume: 9\npace: 1\n');
    writeFileSync(join(root, 'opt/the settings/sedge.ini'), '[0]\nx = 1\n[a]\nq = 0\nx = 1\n\n[b]\nx = 1\n');
    expect(runBundle(shell, root, script, [], env)).toMatchObject({ status: 0, said: '' });
    expect(readFileSync(conf, 'utf8')).toBe('new: 1\nsound: off\nvolume: 9\npace: 1\nglow: yes\n');
    expect(readFileSync(join(root, 'opt/the settings/sedge.ini'), 'utf8')).toBe(
      '[0]\nx = 1\n[a]\nq = 0\nx = 2\n\n[b]\nx = 1\ny = 3\n',
    );
    writeFileSync(conf, 'sound: off\nvolume: 11\npace: 1\nglow: yes\n');
    expect(runBundle(shell, root, script, ['undo'], env)).toMatchObject({ status: 0, said: '' });
    expect(readFileSync(conf, 'utf8')).toBe('sound: on\nvolume: 11\npace: 1\n');
  });

  it.skipIf(missing).each([
    ['an owned line was changed', "hall/it's $(x) b.conf", 'sound: maybe\nvolume: 5\npace: 1\n'],
    ['its key was added already', "hall/it's $(x) b.conf", 'sound: on\nglow: no\nvolume: 5\npace: 1\n'],
    ['its key stands twice by now', "hall/it's $(x) b.conf", 'sound: on\nvolume: 5\npace: 1\nSound: on\n'],
    ['its section is gone', 'sedge.ini', '[b]\nx = 1'],
    ['a file that is wholly ours is there', 'wifi/deep/r\u00e4um.net', 'theirs\n'],
    ['a file to remove was changed', 'gone.txt', 'still here'],
    ['the card is another one', 'thumbwright-card.txt', 'card: ffffffffffffffff\ndevice: wren\n'],
  ])('writes nothing at all when %s', (what, file, text) => {
    const { root, script } = device(what, { [`opt/the settings/${file}`]: text });
    const before = picture(root);
    const run = runBundle(shell, root, script, [], env);
    expect(run.status).toBe(1);
    expect(run.said).toContain('nothing was written');
    expect(picture(root)).toBe(before);
    expect(logOf(root, bundle)).toMatch(/^(file|card): refused /m);
  });

  it.skipIf(missing)('follows links inside a part and none that leads out of it', () => {
    const { root, script } = device('links');
    const settings = join(root, 'opt/the settings');
    spawnSync('mv', [join(settings, 'hall'), join(settings, 'hall two')]);
    symlinkSync('hall two', join(settings, 'hall'));
    expect(runBundle(shell, root, script, [], env)).toMatchObject({ status: 0, said: '' });
    expect(readFileSync(join(settings, "hall two/it's $(x) b.conf"), 'utf8')).toContain('sound: off\n');
    expect(runBundle(shell, root, script, ['undo'], env).status).toBe(0);
    rmSync(join(settings, 'hall'));
    spawnSync('mv', [join(settings, 'hall two'), join(root, 'outside')]);
    symlinkSync('../../outside', join(settings, 'hall'));
    const run = runBundle(shell, root, script, [], env);
    expect(run.status).toBe(1);
    expect(logOf(root, bundle)).toContain('a link leads out of its part');
    expect(readFileSync(join(root, "outside/it's $(x) b.conf"), 'utf8')).toBe(play);
  });

  it.skipIf(missing)('leaves what a running frontend will rewrite until it has ended', () => {
    const some = files.map((file, at) => (at === 1 ? { ...file, processes: ['a-long-named-frontend'] } : file));
    const waits = makeBundle(some);
    const root = join(base, `${name} running`);
    const script = deviceFor(root, some, waits, { 'proc/12/comm': 'a-long-named-fr\n' });
    expect(runBundle(shell, root, script, [], env)).toMatchObject({ status: 0, said: '' });
    const conf = onDevice(root, files[1]?.path ?? '');
    expect(readFileSync(conf, 'utf8')).toBe(play);
    expect(logOf(root, waits)).toMatch(/^state: waiting$/m);
    expect(logOf(root, waits)).toContain(`file: waiting ${files[1]?.path ?? ''}\n`);
    // It ends, and writes its file once more.
    rmSync(join(root, 'proc/12'), { recursive: true });
    writeFileSync(conf, play.replace('volume: 5', 'volume: 7'));
    expect(runBundle(shell, root, script, [], env)).toMatchObject({ status: 0, said: '' });
    expect(readFileSync(conf, 'utf8')).toBe('sound: off\nvolume: 7\npace: 1\nglow: yes\n');
    expect(logOf(root, waits)).toMatch(/^state: done$/m);
  });

  it.skipIf(missing)('writes by itself what waited, once its frontend has ended', { timeout: 60_000 }, async () => {
    const some = files.map((file, at) => (at === 1 ? { ...file, processes: ['a-long-named-frontend'] } : file));
    const waits = makeBundle(some);
    const root = join(base, `${name} waiting`);
    const script = deviceFor(root, some, waits, { 'proc/12/comm': 'a-long-named-fr\n', 'proc/13/comm': 'sh\n' });
    const conf = onDevice(root, files[1]?.path ?? '');
    const run = runBundle(shell, root, script, [], { ...env, THUMBWRIGHT_WAIT: 'forever' });
    // It does not hold up the menu that started it.
    expect(run).toMatchObject({ status: 0, said: '' });
    expect(run.out).toContain('They are written as soon as it has ended.');
    await sleep(2500);
    expect(readFileSync(conf, 'utf8')).toBe(play);
    expect(logOf(root, waits)).toMatch(/^state: waiting$/m);
    // As a frontend ends: it writes its file once more, then it is gone.
    writeFileSync(conf, play.replace('volume: 5', 'volume: 7'));
    rmSync(join(root, 'proc/12'), { recursive: true });
    await until(() => /^state: done$/m.test(logOf(root, waits)));
    expect(readFileSync(conf, 'utf8')).toBe('sound: off\nvolume: 7\npace: 1\nglow: yes\n');
    await until(() => !existsSync(join(root, 'opt/the settings/.thumbwright-bundle/lock')));
    expect(runBundle(shell, root, script, ['undo'], env)).toMatchObject({ status: 0, said: '' });
    expect(readFileSync(conf, 'utf8')).toBe(play.replace('volume: 5', 'volume: 7'));
  });

  it.skipIf(missing)('waits no more once it is taken back', { timeout: 60_000 }, async () => {
    const some = files.map((file, at) => (at === 1 ? { ...file, processes: ['a-frontend'] } : file));
    const waits = makeBundle(some);
    const root = join(base, `${name} waiting in vain`);
    const script = deviceFor(root, some, waits, { 'proc/12/comm': 'a-frontend\n' });
    const before = picture(root);
    expect(runBundle(shell, root, script, [], { ...env, THUMBWRIGHT_WAIT: 'forever' }).status).toBe(0);
    expect(picture(root)).not.toBe(before);
    expect(runBundle(shell, root, script, ['undo'], env)).toMatchObject({ status: 0, said: '' });
    rmSync(join(root, 'proc/12'), { recursive: true });
    await sleep(2500);
    expect(picture(root)).toBe(before);
    expect(logOf(root, waits)).toMatch(/^state: undone$/m);
  });

  it.skipIf(missing)('is not run when a byte of it is missing or another', () => {
    const { root, script } = device('damaged');
    const before = picture(root);
    const text = readFileSync(script);
    for (const damaged of [
      text.subarray(0, -9),
      Buffer.from(text.toString('latin1').replace('sound', 'sonud'), 'latin1'),
      Buffer.from(text.toString('latin1').replaceAll('\n', '\r\n'), 'latin1'),
    ]) {
      writeFileSync(script, damaged);
      runBundle(shell, root, script, [], env);
      expect(picture(root)).toBe(before);
      expect(existsSync(join(root, 'opt/the settings/.thumbwright-bundle'))).toBe(false);
    }
  });
});

describe('the text of a bundle', () => {
  it.skipIf(requireTool('shellcheck', 'shellcheck'))('gives shellcheck nothing to say', () => {
    const run = spawnSync('shellcheck', ['--shell=sh', '--norc', '-'], { input: bundle.script, encoding: 'utf8' });
    expect(run.stdout).toBe('');
    expect(run.status).toBe(0);
  });

  it('counts check sums as cksum does', () => {
    for (const text of ['', 'a', 'thumbwright\n', '\u00ff'.repeat(70_000)]) {
      const bytes = Buffer.from(text, 'latin1');
      expect(`${cksum(bytes)}\n`).toBe(spawnSync('cksum', { input: bytes, encoding: 'utf8' }).stdout);
    }
  });

  it('checks by line what has lines of its own', () => {
    expect(bundle.byLine).toEqual(files.slice(0, 3).map((file) => file.path));
  });
});
