import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { bundleFile, deviceFor, logOf, makeBundle, pairs, picture, runBundle } from '../../support/bundle-world.ts';
import { isMissing, requireTool } from '../../support/tool.ts';

const base = mkdtempSync(join(tmpdir(), 'thumbwright killed '));
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

// Outside check: strace's system-call injection (strace(1), 'Syscall fault injection').
const noTrace = isMissing(
  spawnSync('strace', ['-e', 'trace=none', 'true'], { stdio: 'ignore' }).status === 0,
  'strace, and the right to trace',
  'strace',
);
const noBusybox = requireTool('busybox', 'busybox');
const where = (name: string): string =>
  spawnSync('sh', ['-c', `command -v ${name}`], { encoding: 'utf8' }).stdout.trim();
const shells = [
  { name: 'dash', shell: [where('dash')], missing: noTrace || requireTool('dash', 'dash') },
  { name: 'busybox', shell: [where('busybox'), 'sh'], missing: noTrace || noBusybox },
];

const files = [
  bundleFile('settings:hall/play.conf', 'a: 1\nb: 2\n', 'a: 1\nb: 3\nc: 4\n', { scheme: pairs }),
  bundleFile('settings:wifi/one.net', undefined, 'psk=x\n', { mode: 0o600 }),
  bundleFile('games:sill/whole.txt', 'old', 'new', { mode: 0o640 }),
  bundleFile('games:sill/gone.txt', 'bye', undefined),
];
const bundle = makeBundle(files);

/**
 * A command is some four writes, of which there are thousands: every third with THUMBWRIGHT_RUNS=1000 (an hour), else a
 * few far apart.
 */
const step = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) >= 1000 ? 3 : 701;

/**
 * Runs a script and kills its shell at the n-th thing that it writes: with -x it tells each command before it runs it, so
 * that this is before every command, and within the tools that the shell has built in. False: it came to its end before.
 */
function killedAt(shell: readonly string[], root: string, script: string, verb: string, n: number): boolean {
  const trace = [
    where('strace'),
    '-o',
    '/dev/null',
    '-e',
    'trace=write',
    '-e',
    `inject=write:signal=SIGKILL:when=${n}`,
  ];
  const run = runBundle([...trace, ...shell, '-x'], root, script, [verb]);
  return run.status === 137 || run.status === null;
}

describe.each(shells)('a bundle under $name, killed at any of its lines', ({ name, shell, missing }) => {
  it.skipIf(missing).each(['install', 'undo'])('in %s: undo brings all of it back', { timeout: 3_600_000 }, (verb) => {
    const root = join(base, `${name} ${verb}`);
    const script = deviceFor(root, files, bundle);
    const old = picture(root);
    expect(runBundle(shell, root, script).status).toBe(0);
    const fresh = picture(root);
    let kills = 0;
    const seen = new Set<string>();
    // Another first one for each shell and verb, so that the steps of all lie apart.
    for (let n = (step === 3 ? 0 : 150) + 20 * (name.length + verb.length); ; n += step) {
      const at = `${verb} killed at line ${n}`;
      deviceFor(root, files, bundle);
      if (verb === 'undo') expect(runBundle(shell, root, script).status).toBe(0);
      if (!killedAt(shell, root, script, verb, n)) break;
      kills += 1;
      seen.add(picture(root));
      // Once more what was asked for, or the other way: both lead to an end.
      if (n % 2 === 0 || verb === 'undo') {
        const again = runBundle(shell, root, script, [verb]);
        expect(again, at).toMatchObject({ status: 0, said: '' });
        expect(picture(root), at).toBe(verb === 'undo' ? old : fresh);
      }
      expect(runBundle(shell, root, script, ['undo']), at).toMatchObject({ status: 0, said: '' });
      expect(picture(root), at).toBe(old);
      expect(logOf(root, bundle)).not.toContain('stays');
    }
    console.log(`${name}, ${verb}: killed at ${kills} of some ${kills * step} writes; ${seen.size} states were seen`);
    expect(kills).toBeGreaterThan(1000 / step);
    expect(seen.size).toBeGreaterThan(0);
  });
});
