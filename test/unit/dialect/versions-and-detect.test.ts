import semver from 'semver';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { badPattern, detectVersion } from '../../../src/dialect/detect.ts';
import { badRange, compareVersions, satisfiesVersions } from '../../../src/dialect/frontend-version.ts';
import { renamesBetween } from '../../../src/dialect/moved.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

describe('frontend versions', () => {
  it.each([
    ['2.1', '2.1.0', 0],
    ['2.10', '2.9', 1],
    ['v2.1', '2.1', 0],
    ['2024-03-01', '2023-12-31', 1],
    ['007', '7', 0],
    ['2.1', '2.1-b', -1],
    ['2.1-a', '2.1-b', -1],
    ['99999999999999999999', '99999999999999999998', 1],
  ])('%s against %s', (a, b, sign) => {
    expect(Math.sign(compareVersions(a, b))).toBe(sign);
    expect(Math.sign(compareVersions(b, a))).toBe(sign === 0 ? 0 : -sign);
  });

  // Outside: the semver package, on versions of three plain numbers, where both orders must agree.
  it('agree with semver on plain versions and ranges', () => {
    const number = fc.integer({ min: 0, max: 12 });
    const version = fc.tuple(number, number, number).map((parts) => parts.join('.'));
    const range = fc
      .array(
        fc.tuple(fc.constantFrom('<', '<=', '=', '>=', '>'), version).map(([sign, v]) => sign + v),
        { minLength: 1, maxLength: 3 },
      )
      .map((conditions) => conditions.join(' '));
    fc.assert(
      fc.property(version, version, range, (a, b, wanted) => {
        expect(Math.sign(compareVersions(a, b))).toBe(semver.compare(a, b));
        expect(satisfiesVersions(a, wanted)).toBe(semver.satisfies(a, wanted));
      }),
      { numRuns: runs },
    );
  });

  it.each(['', '>= 2', '2.1 - 3', '^2', '>=2 ||', '<>2'])('refuse the range %j', (range) => {
    expect(badRange(range)).toBeDefined();
    expect(satisfiesVersions('2.1', range)).toBe(false);
  });
});

describe('detect', () => {
  it('reads the first group of the first match', async () => {
    expect(await detectVersion('Harrow ([0-9.]+)', 'About\nHarrow 2.1.4 (hall)\nHarrow 3')).toBe('2.1.4');
    expect(await detectVersion('^version=(.*)$', 'name=x\r\nversion= 2.1 \r\n')).toBe('2.1');
    expect(await detectVersion('Harrow ([0-9.]+)', 'Sill 4.0.2')).toBeUndefined();
  });

  it('takes no text that could not be shown', async () => {
    expect(await detectVersion('v(.*)', 'v\u001b[31m2.1')).toBeUndefined();
    expect(await detectVersion('v(.*)', `v${'1'.repeat(200)}`)).toBeUndefined();
  });

  // A backtracking engine would need about 2^60000 steps for each of these.
  it.each(['(([a]+)+)+b', '(a|a)*b', '(a*)*b', '(.*.*.*.*.*x)b'])(
    'is done with %s on 60,000 characters',
    async (pattern) => {
      expect(badPattern(pattern)).toBeUndefined();
      expect(await detectVersion(pattern, 'a'.repeat(60_000))).toBeUndefined();
    },
  );

  it.each([
    '([0-9]+',
    'no group',
    '(?=x)(y)',
    '(?<!x)(y)',
    '(x)\\1',
    '(?<n>x)\\k<n>(y)',
    '((a{100}){100})',
    '('.repeat(600),
  ])('refuses %s', async (pattern) => {
    expect(badPattern(pattern)).toBeDefined();
    expect(await detectVersion(pattern, 'xy')).toBeUndefined();
  });
});

describe('what an update renames', () => {
  const dialect = dialectDocument(`
dialect: harrow
format: 1
version: 1.0.0
for-versions: ">=2"
role: player
files: { main: { path: "{{root}}/play.conf", syntax: pairs } }
settings: {}
moved:
  - { versions: ">=2.2", core: { thrush: song-thrush }, folder: { systems: per-system, systems/discs: discs } }
  - { versions: ">=2.4", core: { song-thrush: mavis }, file: { play.conf: game.conf }, key: { main: { soft: smooth } } }
`);

  it('is what holds after it and did not before', () => {
    const all = renamesBetween(dialect, '2.1', '2.4');
    expect([all.core('thrush'), all.core('dunnock'), all.core('constructor')]).toEqual([
      'mavis',
      'dunnock',
      'constructor',
    ]);
    expect([
      all.file('play.conf'),
      all.file('systems/a.conf'),
      all.file('systems/discs/a.conf'),
      all.file('systemsx/a.conf'),
    ]).toEqual(['game.conf', 'per-system/a.conf', 'discs/a.conf', 'systemsx/a.conf']);
    expect([all.key('main', 'soft'), all.key('other', 'soft')]).toEqual(['smooth', 'soft']);
    expect(renamesBetween(dialect, '2.2', '2.4').core('thrush')).toBe('thrush');
    expect(renamesBetween(dialect, '2.2', '2.3').core('thrush')).toBe('thrush');
  });
});
