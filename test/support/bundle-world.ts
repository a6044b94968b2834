import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, lstatSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { bundleScript } from '../../src/device/bundle-script.ts';
import type { Bundle, BundleFile } from '../../src/device/bundle-script.ts';
import type { LineScheme } from '../../src/device/line-edits.ts';
import { cardPath } from '../../src/model/paths.ts';

/** What stands on the device below its root, by path. */
export type Standing = Readonly<Record<string, string | Uint8Array>>;

export const pairs: LineScheme = { sections: 'none', keyEnd: ':' };
export const ini: LineScheme = { sections: 'header', keyEnd: '=' };
export const json: LineScheme = { sections: 'indent', keyEnd: ':' };

const mounts = new Map([
  ['games', "/media/it's games"],
  ['settings', '/opt/the settings'],
]);

type Made = Partial<Omit<BundleFile, 'path'>>;

/** A file of a bundle; what is not said is: a file wholly ours, as the system makes it. */
export function bundleFile(
  path: string,
  before: string | undefined,
  after: string | undefined,
  made: Made = {},
): BundleFile {
  const at = cardPath(path);
  if (at === undefined) throw new Error(`${path} is no path of a card.`);
  const bytes = (text: string | undefined): Uint8Array | undefined =>
    text === undefined ? undefined : Buffer.from(text, 'latin1');
  return {
    path: at,
    before: bytes(before),
    after: bytes(after),
    mode: undefined,
    owner: undefined,
    processes: [],
    scheme: undefined,
    ...made,
  };
}

export function makeBundle(files: readonly BundleFile[]): Bundle {
  return bundleScript({ device: 'wren', card: '0123456789abcdef', mounts, home: 'settings', files });
}

/** Where a path of a card lies on the device. */
export function onDevice(root: string, path: string): string {
  const colon = path.indexOf(':');
  return join(root, mounts.get(path.slice(0, colon)) ?? '', path.slice(colon + 1));
}

/** A device as a bundle's files were when they were read, and the bundle on its games part. */
export function deviceFor(root: string, files: readonly BundleFile[], bundle: Bundle, also: Standing = {}): string {
  rmSync(root, { recursive: true, force: true });
  const put = (path: string, text: string | Uint8Array): void => {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  };
  for (const mount of mounts.values()) mkdirSync(join(root, mount), { recursive: true });
  mkdirSync(join(root, 'proc'), { recursive: true });
  for (const file of files) if (file.before !== undefined) put(onDevice(root, file.path), file.before);
  for (const [path, text] of Object.entries(also)) put(join(root, path), text);
  const script = join(root, mounts.get('games') ?? '', 'fen bundle.sh');
  writeFileSync(script, bundle.script);
  chmodSync(script, 0o600);
  return script;
}

/** The two parts, without what the installer keeps and logs: paths with modes and texts. */
export function picture(root: string): string {
  const found: string[] = [];
  const walk = (path: string): void => {
    for (const name of readdirSync(join(root, path)).sort()) {
      if (name === '.thumbwright-bundle' || name === 'thumbwright-bundle' || /bundle(-undo)?\.sh$/.test(name)) continue;
      const at = join(path, name);
      const entry = lstatSync(join(root, at));
      const mode = (entry.mode & 0o777).toString(8);
      if (entry.isDirectory()) {
        found.push(`${at}/ ${mode}`);
        walk(at);
      } else if (entry.isFile()) found.push(`${at} ${mode} ${readFileSync(join(root, at), 'latin1')}`);
      else found.push(`${at} link`);
    }
  };
  for (const mount of mounts.values()) walk(mount);
  return found.join('\n');
}

export interface RanBundle {
  readonly status: number | null;
  readonly out: string;
  readonly said: string;
}

/** Where the path holds a device's tools only, this is still found. */
const setsid = spawnSync('sh', ['-c', 'command -v setsid'], { encoding: 'utf8' }).stdout.trim();

/** Runs a script as the device would: no terminal, a session of its own, `PATH` as given. */
export function runBundle(
  shell: readonly string[],
  root: string,
  script: string,
  args: readonly string[] = [],
  environment: Readonly<Record<string, string>> = {},
): RanBundle {
  const run = spawnSync(setsid, ['-w', ...shell, script, ...args], {
    env: {
      THUMBWRIGHT_ROOT: root,
      THUMBWRIGHT_WAIT: 'never',
      THUMBWRIGHT_SYNC: ':',
      PATH: process.env['PATH'] ?? '',
      ...environment,
    },
    encoding: 'utf8',
    cwd: '/',
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { status: run.status, out: run.stdout, said: run.stderr };
}

/** The log that the installer leaves on the games part. */
export function logOf(root: string, { seal }: Bundle): string {
  const path = join(root, mounts.get('games') ?? '', 'thumbwright-bundle', `${seal.slice(0, 16)}.txt`);
  return existsSync(path) ? readFileSync(path, 'utf8') : '';
}
