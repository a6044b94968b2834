import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { fetchScript, quoteForShell } from '../../../src/device/fetch-script.ts';

const root = mkdtempSync(join(tmpdir(), 'thumbwright fetch '));
afterAll(() => rmSync(root, { recursive: true, force: true }));

function has(program: string): boolean {
  return spawnSync('sh', ['-c', `command -v ${program}`]).status === 0;
}

const shells = [
  ['dash', ['dash']],
  ['busybox', ['busybox', 'sh']],
] as const;

/** A made-up device: paths with spaces and quotes, a link that leads out, a large file, inputs as files. */
function device(name: string) {
  const base = join(root, name);
  const games = join(base, "it's games");
  const settings = join(base, 'the settings');
  for (const folder of [
    games,
    join(settings, 'deep folder'),
    join(base, 'proc/bus/input'),
    join(base, 'input'),
    join(base, 'cores'),
  ])
    mkdirSync(folder, { recursive: true });
  writeFileSync(join(settings, 'play.conf'), 'keep-place: on\n');
  writeFileSync(join(settings, 'deep folder', 'a b.conf'), 'x: 1\n');
  writeFileSync(join(settings, 'large.bin'), Buffer.alloc(2 << 20));
  symlinkSync('/etc/passwd', join(settings, 'link.conf'));
  writeFileSync(join(base, 'proc/bus/input/devices'), 'I: Bus=0019 Vendor=0001 Product=0002 Version=0100\n');
  writeFileSync(join(base, 'proc/mounts'), 'none / none\n');
  writeFileSync(join(base, 'input/event0'), Buffer.from('0011', 'hex'));
  writeFileSync(join(base, 'cores', 'dunnock core.so'), 'core');
  const script = fetchScript({
    gamesRoot: games,
    folders: [
      { name: 'settings', path: settings },
      { name: 'gone', path: join(base, 'gone') },
    ],
    coreFolders: [join(base, 'cores')],
    pressTest: ['south', 'east'],
    seconds: 1,
  });
  const file = join(games, 'fetch.sh');
  writeFileSync(file, script);
  return {
    base,
    games,
    settings,
    file,
    script,
    env: { ...process.env, THUMBWRIGHT_PROC: join(base, 'proc'), THUMBWRIGHT_INPUT: join(base, 'input') },
  };
}

describe('fetchScript', () => {
  it.each(shells)('brings everything under %s, numbered anew each time', (name, [program, ...args]) => {
    expect(has(program)).toBe(true);
    const { games, file, env, base } = device(name);
    for (const number of [1, 2]) {
      const run = spawnSync(program, [...args, file], { env, encoding: 'utf8', cwd: '/' });
      expect(run.stderr).toBe('');
      expect(run.status).toBe(0);
      const out = join(games, 'thumbwright-fetch', String(number));
      expect(readFileSync(join(out, 'files/settings/deep folder/a b.conf'), 'utf8')).toBe('x: 1\n');
      expect(existsSync(join(out, 'files/settings/link.conf'))).toBe(false);
      expect(existsSync(join(out, 'files/settings/large.bin'))).toBe(false);
      expect(readFileSync(join(out, 'files/settings.larger.txt'), 'utf8')).toContain('large.bin');
      expect(readFileSync(join(out, 'about.txt'), 'utf8')).toMatch(/^word-size: (64|32)$/m);
      expect(readFileSync(join(out, 'events/event0')).toString('hex')).toBe('0011');
      expect(readFileSync(join(out, 'press-order.txt'), 'utf8')).toBe('south\neast\n');
      // SHA-1 of 'core' by coreutils.
      expect(readFileSync(join(out, 'cores.txt'), 'utf8')).toContain(
        `4 ${spawnSync('sha1sum', [join(base, 'cores', 'dunnock core.so')], { encoding: 'utf8' }).stdout.slice(0, 40)} `,
      );
      const done = readFileSync(join(out, 'DONE.txt'), 'utf8');
      expect(done).toMatch(/^thumbwright fetch \d, \d{4}-\d\d-\d\d \d\d:\d\d$/m);
      expect(done).toContain('no folder: ');
    }
    expect(readdirSync(join(games, 'thumbwright-fetch'))).toEqual(['1', '2']);
  });

  it.each(shells)(
    'leaves a read-only settings part as it is, and says under %s when the games part is full',
    (name, [program, ...args]) => {
      const { games, settings, file, env, script } = device(`${name} full`);
      chmodSync(settings, 0o555);
      const before = readdirSync(settings);
      expect(spawnSync(program, [...args, file], { env, encoding: 'utf8' }).status).toBe(0);
      expect(readdirSync(settings)).toEqual(before);
      // /dev/full takes no byte (full(4)); a folder of links to it stands for a part without room.
      const full = join(root, `${name} no room`);
      mkdirSync(join(full, 'thumbwright-fetch'), { recursive: true });
      writeFileSync(
        join(full, 'run.sh'),
        script.replace(': >"$trouble"', 'ln -s /dev/full "$out/DONE.txt"; : >"$trouble"'),
      );
      const run = spawnSync(program, [...args, join(full, 'run.sh')], {
        env: { ...env, THUMBWRIGHT_GAMES: full },
        encoding: 'utf8',
      });
      expect(run.status).toBe(1);
      expect(run.stderr).toContain('the games part is full');
      const none = spawnSync(program, [...args, file], {
        env: { ...env, THUMBWRIGHT_GAMES: join(games, 'nowhere') },
        encoding: 'utf8',
      });
      expect(none.status).toBe(1);
      expect(none.stderr).toContain('there is no folder');
    },
  );

  it.skipIf(!has('shellcheck'))('gives shellcheck nothing to say', () => {
    const { file } = device('lint');
    const run = spawnSync('shellcheck', ['--shell=sh', '--norc', file], { encoding: 'utf8' });
    expect(run.stdout).toBe('');
    expect(run.status).toBe(0);
  });

  it('has LF lines, and quotes whatever a path holds', () => {
    expect(device('lines').script).not.toContain('\r');
    for (const text of ["it's", '$(touch x)', '`x`', 'a\nb', '-n', '']) {
      const run = spawnSync('sh', ['-c', `printf '%s' ${quoteForShell(text)}`], { encoding: 'utf8' });
      expect(run.stdout).toBe(text);
    }
  });
});
