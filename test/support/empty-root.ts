import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { isMissing } from './tool.ts';

const busybox = spawnSync('sh', ['-c', 'command -v busybox'], { encoding: 'utf8' }).stdout.trim();

/** The libraries that a program is loaded with; none for a static one. */
function librariesOf(program: string): readonly string[] {
  const told = spawnSync('ldd', [program], { encoding: 'utf8' });
  return told.status === 0 ? [...told.stdout.matchAll(/(?<![^\s])\/\S+/g)].map(([path]) => path) : [];
}

/**
 * A root in which there is nothing but busybox, under the names of its tools, with what it is loaded with, and the one
 * device that any system has, /dev/null.
 */
export function makeEmptyRoot(root: string): boolean {
  for (const folder of ['bin', 'dev', 'proc']) mkdirSync(join(root, folder), { recursive: true });
  for (const library of librariesOf(busybox)) {
    const to = join(root, library);
    mkdirSync(dirname(to), { recursive: true });
    copyFileSync(realpathSync(library), to);
  }
  copyFileSync(realpathSync(busybox), join(root, 'bin/busybox'));
  return [
    ['chroot', root, '/bin/busybox', '--install', '-s', '/bin'],
    ['mknod', '-m', '666', join(root, 'dev/null'), 'c', '1', '3'],
    // A file system may carry devices that it does not let anybody open.
    ['chroot', root, '/bin/sh', '-c', 'echo x >/dev/null'],
  ].every(([program = '', ...args]) => spawnSync(program, args, { stdio: 'ignore' }).status === 0);
}

/**
 * For `it.skipIf(…)`: true, with a line that says why, where nobody may enter a root of their own. Who runs this as root in
 * continuous integration must be able to.
 */
export function noEmptyRoot(): boolean {
  if (process.getuid?.() !== 0) {
    console.warn('skipped: a root of its own can be entered by root only (chroot(2)); run this once as root');
    return true;
  }
  const root = mkdtempSync(join(tmpdir(), 'thumbwright root '));
  try {
    return isMissing(
      existsSync(busybox) && makeEmptyRoot(root),
      'busybox, or the right to enter a root of its own and to make /dev/null there (chroot, mknod),',
      'busybox',
    );
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}
