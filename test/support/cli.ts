import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const command = resolve('.dist/thumbwright.cjs');

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly said: string;
}

/** Runs the bundled command as a person would, without colour. */
export function thumbwright(
  args: readonly string[],
  folder: string,
  environment: Readonly<Record<string, string>> = {},
): Ran {
  const ran = spawnSync(process.execPath, [command, ...args], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1', ...environment },
  });
  return { status: ran.status, out: ran.stdout, said: ran.stderr };
}

/** A folder that is gone when the work is done; `demo`: with the demo in it. */
export function inFolder<T>(work: (folder: string) => T, demo = true): T {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-test-'));
  try {
    if (demo) {
      writeFileSync(join(folder, 'package.json'), '{}');
      cpSync('profiles', join(folder, 'profiles'), { recursive: true });
    }
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
