// Walks test/cases/diff: each folder holds the profiles a.yaml and b.yaml, perhaps houses of their own, and told.txt, what
// the comparison tells at 80 columns. Those called same-… must tell no difference. UPDATE_CASES=1 writes told.txt.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { countDifferences } from '../../../src/model/comparison.ts';
import { diffText } from '../../../src/report/diff/diff-text.ts';
import { paint } from '../../../src/report/paint.ts';
import { compareIn, sideIn } from '../../support/compare/compare-world.ts';
import { prepareSide } from '../../../src/pipeline/compare-profiles.ts';
import { readFolder } from '../../support/world.ts';

const root = new URL('../../cases/diff', import.meta.url).pathname;
const demo = Object.entries(readFolder('profiles')).filter(([path]) => path.includes('/'));
const world = Object.entries(readFolder(join(root, '_world')));

describe.each(readdirSync(root).filter((name) => name !== '_world'))('diff case %s', (name) => {
  const folder = join(root, name);
  const own = readdirSync(folder).filter((file) => file.endsWith('.yaml'));
  const files = new MemoryFiles({
    '/w/package.json': '{}',
    ...Object.fromEntries([...demo, ...world].map(([path, bytes]) => [`/w/profiles/${path}`, bytes])),
    ...Object.fromEntries(own.map((file) => [`/w/profiles/${file}`, readFileSync(join(folder, file))])),
  });

  it('is of two profiles without mistakes', () => {
    for (const side of ['a', 'b']) {
      const { findings } = prepareSide(sideIn(files, side).named);
      expect(findings.filter(({ grade }) => grade === 'error').map(({ detail }) => detail)).toEqual([]);
    }
  });

  it('tells what is expected', () => {
    const comparison = compareIn(files, 'a', 'b');
    const told = diffText(comparison, paint(false), 80);
    for (const line of told.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(join(folder, 'told.txt'), told);
    expect(told).toBe(readFileSync(join(folder, 'told.txt'), 'utf8'));
    expect(countDifferences(comparison) === 0).toBe(name.startsWith('same-'));
    if (name.startsWith('same-')) expect([comparison.hotkeys, comparison.hands]).toEqual([[], []]);
  });
});
