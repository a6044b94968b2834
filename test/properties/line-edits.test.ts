import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { editText } from '../../src/device/bundle-script.ts';
import { lineDifference } from '../../src/device/line-difference.ts';
import { applyLineEdits, lineEdits } from '../../src/device/line-edits.ts';
import type { LineScheme } from '../../src/device/line-edits.ts';
import { requireTool } from '../support/tool.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const base = mkdtempSync(join(tmpdir(), 'thumbwright lines '));
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

const line = fc.constantFrom(
  ...[
    'a: 1',
    'a: 1.0',
    'a: 01',
    ' a: 1',
    'A: 1',
    'b: 2',
    'b: 3',
    'c',
    '',
    '# a: 1',
    '[one]',
    '[two]',
    '  [one] ',
    '\tx: 0',
    '    y: 0',
    '\u00e4: \u00ff',
    'd: \r',
    '"e": 1,',
    '}',
    '{',
    'a: 1e0',
    '%s\\n: &',
  ],
);
const text = fc
  .tuple(fc.array(line, { maxLength: 9 }), fc.boolean())
  .map(([lines, ended]) => lines.join('\n') + (ended && lines.length > 0 ? '\n' : ''));
const scheme: fc.Arbitrary<LineScheme> = fc.record({
  sections: fc.constantFrom('none', 'header', 'indent'),
  keyEnd: fc.constantFrom(':', '=', ':=', '> '),
});

/** Some lines of a text changed, taken out or put in. */
function disturbed(start: string, changes: readonly (readonly [number, 'in' | 'out' | 'other', string])[]): string {
  const lines = start.split('\n');
  for (const [at, kind, fresh] of changes) {
    const where = at % (lines.length + 1);
    lines.splice(where, kind === 'in' ? 0 : 1, ...(kind === 'out' ? [] : [fresh]));
  }
  return lines.join('\n');
}
const disturbance = fc.array(fc.tuple(fc.nat(20), fc.constantFrom('in', 'out', 'other'), line), { maxLength: 2 });

/** The part of the installer that edits, run on many texts by one shell. */
const edit = /^edit\(\) \{[^]*?^\}$/m.exec(readFileSync('src/device/bundle.sh', 'utf8'))?.[0] ?? '';

describe('edits by line', () => {
  it('finds a way between two texts, in order', () => {
    fc.assert(
      fc.property(fc.array(line, { maxLength: 12 }), fc.array(line, { maxLength: 12 }), (from, to) => {
        const made: string[] = [];
        let at = 0;
        for (const change of lineDifference(from, to)) {
          expect(change.at).toBeGreaterThanOrEqual(at);
          made.push(...from.slice(at, change.at), ...to.slice(change.to, change.to + change.fresh));
          at = change.at + change.old;
        }
        expect([...made, ...from.slice(at)]).toEqual(to);
      }),
      { numRuns: runs },
    );
  });

  it('leaves every other line of a text that was changed since, or refuses', () => {
    fc.assert(
      fc.property(text, text, scheme, disturbance, (before, after, how, changes) => {
        const edits = lineEdits(before, after, how);
        if (edits === undefined) return;
        expect(applyLineEdits(before, edits)).toBe(after);
        const now = disturbed(before, changes);
        const made = applyLineEdits(now, edits);
        if (made === undefined) return;
        // As many lines more or fewer of each kind as the edits say.
        const count = (of: string): ReadonlyMap<string, number> => {
          const counts = new Map<string, number>();
          for (const one of of.split('\n')) if (one !== '') counts.set(one, (counts.get(one) ?? 0) + 1);
          return counts;
        };
        const [from, to, was, is] = [before, after, now, made].map(count);
        for (const one of new Set([before, after, now, made].flatMap((of) => of.split('\n'))))
          if (one !== '')
            expect((is?.get(one) ?? 0) - (was?.get(one) ?? 0), one).toBe((to?.get(one) ?? 0) - (from?.get(one) ?? 0));
      }),
      { numRuns: runs },
    );
  });

  it.each([
    { name: 'busybox', program: ['busybox', 'sh'], missing: requireTool('busybox', 'busybox') },
    { name: 'dash and the awk there is', program: ['dash'], missing: requireTool('dash', 'dash') },
  ])('the awk of $name does the same', { timeout: 120_000 }, ({ program, missing }) => {
    if (missing) return;
    const cases = fc
      .sample(fc.tuple(text, text, scheme, disturbance), runs)
      .flatMap(([before, after, how, changes]) => {
        const edits = lineEdits(before, after, how);
        return edits === undefined ? [] : [{ edits, now: disturbed(before, changes) }];
      });
    for (const [index, { edits, now }] of cases.entries()) {
      writeFileSync(join(base, `${index}.edits`), editText(edits));
      writeFileSync(join(base, `${index}.now`), Buffer.from(now, 'latin1'));
    }
    const [shell = '', ...args] = program;
    const loop = `cd "$0" || exit 1\nLC_ALL=C; export LC_ALL\n${edit}\ni=0\nwhile [ $i -lt ${cases.length} ]; do edit $i.edits $i.now >$i.made && : >$i.ok; i=$((i + 1)); done`;
    const run = spawnSync(shell, [...args, '-c', loop, base], { encoding: 'utf8' });
    expect(run.stderr).toBe('');
    let made = 0;
    for (const [index, { edits, now }] of cases.entries()) {
      const wanted = applyLineEdits(now, edits);
      const there = existsSync(join(base, `${index}.ok`));
      const got = there ? readFileSync(join(base, `${index}.made`), 'latin1') : undefined;
      expect(got, JSON.stringify({ edits, now })).toBe(wanted);
      if (got !== undefined) made += 1;
      rmSync(join(base, `${index}.ok`), { force: true });
    }
    expect(made).toBeGreaterThan(cases.length / 10);
  });
});
