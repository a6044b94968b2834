import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { recover } from '../../../src/5-apply/recover.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import { nodeDisk } from '../../../src/files/node-disk.ts';
import { inputAt, placeAt } from '../../support/apply-world.ts';
import { driverRecord, driverStart, driverWorks } from '../../support/card/driver-works.ts';
import { isMissing } from '../../support/tool.ts';

// Outside check: strace's system-call injection (strace(1), 'Syscall fault injection'), on the real process and disk.
const missing = isMissing(
  spawnSync('strace', ['-e', 'trace=none', 'true'], { stdio: 'ignore' }).status === 0,
  'strace, and the right to trace',
  'strace',
);

const calls = [
  'openat',
  'write',
  'fsync',
  'close',
  'rename',
  'unlink',
  'mkdir',
  'rmdir',
  'fchmod',
  'fchown',
  'read',
] as const;
type Call = (typeof calls)[number];

let bench = '';
let driver = '';

beforeAll(async () => {
  if (missing) return;
  bench = mkdtempSync(join(tmpdir(), 'kill-'));
  driver = join(bench, 'driver.cjs');
  await build({
    entryPoints: ['test/support/card/apply-driver.ts'],
    outfile: driver,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    mainFields: ['module', 'main'],
    logLevel: 'error',
  });
});

afterAll(() => {
  if (bench !== '') rmSync(bench, { recursive: true });
});

let count = 0;

function freshFolder(): string {
  const folder = join(bench, `card-${count++}`);
  for (const [path, text, mode] of driverStart) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
    chmodSync(join(folder, path), mode);
  }
  return folder;
}

/** Every file with its mode and text, every folder: the card and the record. */
function picture(folder: string): string {
  const found: string[] = [];
  const walk = (path: string): void => {
    const entry = lstatSync(join(folder, path));
    if (entry.isDirectory()) {
      found.push(`${path}/`);
      for (const name of readdirSync(join(folder, path)).sort()) walk(`${path}/${name}`);
    } else found.push(`${path} ${(entry.mode & 0o777).toString(8)} ${readFileSync(join(folder, path), 'latin1')}`);
  };
  walk('media');
  walk('home/.thumbwright/cards');
  return found.join('\n');
}

function trace(
  folder: string,
  verb: string,
  options: readonly string[],
): { readonly killed: boolean; readonly out: string; readonly log: string } {
  const log = join(bench, 'log');
  const run = spawnSync('strace', ['-o', log, ...options, process.execPath, driver, verb, folder], {
    encoding: 'utf8',
  });
  return { killed: run.signal === 'SIGKILL' || run.status === 137, out: run.stdout, log: readFileSync(log, 'utf8') };
}

/** How often the main thread makes each call before the driver begins, and from then on. */
function counts(verb: string): ReadonlyMap<Call, { readonly before: number; readonly during: number }> {
  const folder = freshFolder();
  if (verb === 'undo') apply(inputAt(nodeDisk, driverWorks, driverRecord, folder));
  const { log } = trace(folder, verb, ['-e', `trace=${calls.join(',')},readlink`]);
  const [before = '', during = ''] = log.split(/^readlink\("\/marker-of-the-driver".*$/m);
  const countIn = (text: string, call: string): number =>
    text.split('\n').filter((line) => line.startsWith(`${call}(`)).length;
  return new Map(calls.map((call) => [call, { before: countIn(before, call), during: countIn(during, call) }]));
}

/** Every call takes minutes: all of them with THUMBWRIGHT_RUNS=1000, else one in four. The disk of ours stops at every one. */
const step = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) >= 1000 ? 1 : 4;

/** Reading changes nothing: of these calls a few are enough. */
function chosen(call: Call, during: number): readonly number[] {
  const apart = call === 'read' || call === 'close' ? 6 * step : step;
  return Array.from({ length: during }, (_, at) => at + 1).filter((at) => at % apart === 1 % apart);
}

describe.skipIf(missing)('the real process, at each of its system calls', () => {
  it.each(['write', 'undo'])(
    'killed in a %s: all old or all new, and then as was asked',
    { timeout: 600_000 },
    (verb) => {
      const start = freshFolder();
      const old = picture(start);
      apply(inputAt(nodeDisk, driverWorks, driverRecord, start));
      const fresh = picture(start);
      expect(fresh).not.toBe(old);
      let kills = 0;
      const seen = new Set<string>();
      for (const [call, { before, during }] of counts(verb)) {
        for (const at of chosen(call, during)) {
          const folder = freshFolder();
          if (verb === 'undo') apply(inputAt(nodeDisk, driverWorks, driverRecord, folder));
          const { killed } = trace(folder, verb, [
            '-e',
            `trace=${call}`,
            '-e',
            `inject=${call}:signal=SIGKILL:when=${before + at}`,
          ]);
          if (!killed) continue;
          kills += 1;
          const where = `killed at ${call} ${at}`;
          const place = placeAt(nodeDisk, folder);
          recover(place);
          const now = picture(folder);
          expect([old, fresh], where).toContain(now);
          seen.add(now);
          if (verb === 'undo' || now === fresh) undo(place);
          expect(picture(folder), where).toBe(old);
          expect(apply(inputAt(nodeDisk, driverWorks, driverRecord, folder)).value.kind, where).toBe('done');
          expect(picture(folder), where).toBe(fresh);
          rmSync(folder, { recursive: true });
        }
      }
      expect(kills).toBeGreaterThan(60 / step);
      expect(seen.size).toBe(2);
    },
  );

  it.each([
    ['EIO', ['openat', 'write', 'fsync', 'rename', 'unlink', 'mkdir', 'read']],
    ['ENOSPC', ['openat', 'write', 'fsync', 'rename', 'mkdir']],
    ['EROFS', ['openat', 'rename', 'unlink', 'mkdir']],
  ] as const)(
    'a call that fails once with %s: the state that is told is the state',
    { timeout: 600_000 },
    (error, those) => {
      const start = freshFolder();
      const old = picture(start);
      apply(inputAt(nodeDisk, driverWorks, driverRecord, start));
      const fresh = picture(start);
      let failed = 0;
      const counted = counts('write');
      for (const call of those) {
        const { before, during } = counted.get(call) ?? { before: 0, during: 0 };
        for (const at of chosen(call, during)) {
          const folder = freshFolder();
          const { out } = trace(folder, 'write', [
            '-e',
            `trace=${call}`,
            '-e',
            `inject=${call}:error=${error}:when=${before + at}`,
          ]);
          const where = `${call} ${at} fails: ${out.trim()}`;
          const now = picture(folder);
          // Without an answer it was the answer itself that could not be written.
          if (out.includes('"done"')) expect(now, where).toBe(fresh);
          if (out.includes('"all-old"')) expect(now, where).toBe(old);
          if (out.includes('"failed"')) failed += 1;
          recover(placeAt(nodeDisk, folder));
          expect([old, fresh], where).toContain(picture(folder));
          rmSync(folder, { recursive: true });
        }
      }
      expect(failed).toBeGreaterThan(5 / step);
    },
  );
});
