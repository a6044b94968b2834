// Walks test/cases/explain: each folder holds profiles and houses, asked.txt (the command) and told.txt, what it tells
// at 80 columns. UPDATE_CASES=1 writes told.txt. The devices are those of test/cases/diff/_world.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { prepareSide } from '../../../src/pipeline/compare-profiles.ts';
import { explainAgainst } from '../../../src/pipeline/explain-against.ts';
import { againstText, partingsText } from '../../../src/report/explain/against-text.ts';
import { paint } from '../../../src/report/paint.ts';
import { sideIn } from '../../support/compare/compare-world.ts';
import { readFolder } from '../../support/world.ts';

const root = new URL('../../cases/explain', import.meta.url).pathname;
const demo = Object.entries(readFolder('profiles')).filter(([path]) => path.includes('/'));
const worlds = [join(root, '../diff/_world'), join(root, '_world')].flatMap((at) => Object.entries(readFolder(at)));

describe.each(readdirSync(root).filter((name) => name !== '_world'))('explain case %s', (name) => {
  const folder = join(root, name);
  const own = readdirSync(folder).filter((file) => file.endsWith('.yaml'));
  const files = new MemoryFiles({
    '/w/package.json': '{}',
    ...Object.fromEntries([...demo, ...worlds].map(([path, bytes]) => [`/w/profiles/${path}`, bytes])),
    ...Object.fromEntries(own.map((file) => [`/w/profiles/${file}`, readFileSync(join(folder, file))])),
  });

  it('tells where two profiles without mistakes part', () => {
    const asked = /^explain (\S+)( \S+)? --against (\S+)$/.exec(readFileSync(join(folder, 'asked.txt'), 'utf8').trim());
    const setting = asked?.[2]?.trim();
    const [a, b] = [asked?.[1], asked?.[3]].map((side) => {
      const [profile = '', instance] = side?.split('#') ?? [];
      return sideIn(files, profile, instance);
    });
    if (a === undefined || b === undefined) throw new Error('asked.txt is no such command.');
    for (const { named } of [a, b])
      expect(prepareSide(named).findings.flatMap(({ grade, detail }) => (grade === 'error' ? [detail] : []))).toEqual(
        [],
      );
    const explanation = explainAgainst(a, b, setting);
    const brush = paint(false);
    const told = setting === undefined ? partingsText(explanation, 80) : againstText(explanation, setting, brush, 80);
    for (const line of told.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(join(folder, 'told.txt'), told);
    expect(told).toBe(readFileSync(join(folder, 'told.txt'), 'utf8'));
  });
});
