import { spawnSync } from 'node:child_process';
import { existsSync, lstatSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

export interface FakeDevice {
  readonly root: string;
  /** Folder of the script. */
  readonly games: string;
  readonly script: string;
}

/** A made-up device below `root`: paths with blanks and quotes, a link that leads out, a large file, kernel lists. */
export function fakeDevice(
  root: string,
  script: string,
  { games = "media/it's games", inputs = '', events = new Map<string, Uint8Array>(), maps = '' } = {},
): FakeDevice {
  const put = (path: string, content: string | Uint8Array): void => {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), content);
  };
  put('opt/the settings/play.conf', 'keep-place: on\n');
  put('opt/the settings/deep folder/a b.conf', 'x: 1\n');
  put('opt/the settings/large.bin', Buffer.alloc(2 << 20));
  symlinkSync('/etc/passwd', join(root, 'opt/the settings/link.conf'));
  put('opt/the cores/dunnock core.so', 'core');
  put('etc/os-release', 'NAME=Sedge\nVERSION_ID=3.2.1\n');
  put('proc/bus/input/devices', inputs);
  put('proc/self/maps', maps === '' ? '7ffd2c5e9000-7ffd2c60a000 rw-p 00000000 00:00 0 [stack]\n' : maps);
  put('proc/mounts', '//shelf/games /mnt cifs rw,username=ann,password=s3cret 0 0\n/dev/one / ext4 rw 0 0\n');
  put('proc/partitions', 'major minor  #blocks  name\n');
  mkdirSync(join(root, 'dev/input'), { recursive: true });
  for (const [event, bytes] of events) put(`dev/input/${event}`, bytes);
  put(`${games}/fetch.sh`, script);
  return { root, games: join(root, games), script: join(root, games, 'fetch.sh') };
}

export function runOnDevice(
  { root, script }: FakeDevice,
  shell: readonly string[],
  environment: Readonly<Record<string, string>> = {},
): { readonly status: number | null; readonly out: string; readonly said: string } {
  const [program = 'sh', ...args] = shell;
  const env = { ...process.env, THUMBWRIGHT_ROOT: root, THUMBWRIGHT_SECONDS: '1', ...environment };
  // Where the path holds a device's tools only, the shell itself is still found.
  const where = (name: string): string =>
    spawnSync('sh', ['-c', `command -v ${name}`], { encoding: 'utf8' }).stdout.trim();
  // As from a menu: without a terminal, in a session of its own so that none is found either (where setsid is there).
  const setsid = where('setsid');
  const [first = 'sh', ...rest] = [...(setsid === '' ? [] : [setsid, '-w']), where(program), ...args, script];
  const run = spawnSync(first, rest, { env, encoding: 'utf8', cwd: '/', stdio: ['ignore', 'pipe', 'pipe'] });
  return { status: run.status, out: run.stdout, said: run.stderr };
}

/** Every file below a folder with its bytes and times, to show that nothing of it was touched. */
export function snapshot(folder: string): readonly string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .sort()
    .map((name) => {
      const stat = lstatSync(join(folder, name));
      const bytes = stat.isFile() ? readFileSync(join(folder, name)).toString('base64') : '';
      return `${name} ${stat.mode} ${stat.mtimeMs} ${stat.ctimeMs} ${bytes}`;
    });
}
