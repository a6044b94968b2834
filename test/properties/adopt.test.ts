import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { MemoryFiles } from '../../src/files/memory.ts';
import type { SettingPlace } from '../../src/model/adoption.ts';
import { hostPath } from '../../src/model/paths.ts';
import { prepareProfile } from '../../src/pipeline.ts';
import { settings } from '../../src/vocabulary/registry.ts';
import { adoptCard, keep, open, profileOf, writeCard } from '../support/adopt/adopt-world.ts';
import { twoLayers } from '../support/adopt/random-sections.ts';
import type { Layers } from '../support/adopt/random-sections.ts';
import { beginnings, fileSyntaxes, testDialect } from '../support/adopt/test-dialect.ts';
import type { FileSyntax } from '../support/adopt/test-dialect.ts';
import { readFolder } from '../support/world.ts';

/** Law 3 of product.md: compile, then adopt, changes nothing; adopt at the default layer, then compile, changes nothing. */
const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 200);

const demo = readFolder('profiles');
const tarn = parse(Buffer.from(demo['tarn.yaml'] ?? []).toString()) as Readonly<Record<string, unknown>>;
const facts = { profile: 'tarn', format: 1, name: 'Tarn', extends: 'house.yaml', catalog: 'shelf@1' };
const device = tarn['device'] as object;

interface Place {
  readonly device: object;
  readonly frontends: object;
  readonly dialects: Readonly<Record<string, string | Uint8Array>>;
  readonly card: Readonly<Record<string, string>>;
  readonly fromStock: boolean;
}

/** A workspace with one profile. Flow and block style by turns, so that both are edited. */
function workspace(place: Place, given: Layers, flow: boolean): MemoryFiles {
  const print = (value: unknown): string => (flow ? `${JSON.stringify(value)}\n` : stringify(value));
  const profile = {
    ...facts,
    device: place.device,
    frontends: place.frontends,
    ...given.profile,
    ...(given.only.length === 0 ? {} : { only: given.only.map((block) => ({ for: block.for, ...block.sections })) }),
  };
  return new MemoryFiles({
    '/w/package.json': '{}',
    '/w/profiles/tarn.yaml': print(profile),
    '/w/profiles/house.yaml': print({ house: 'house', format: 1, ...given.house }),
    ...Object.fromEntries(Object.entries(place.dialects).map(([path, text]) => [`/w/profiles/${path}`, text])),
    ...Object.fromEntries(Object.entries(place.card).map(([path, text]) => [`/card/${path}`, text])),
  });
}

function compiles(files: MemoryFiles): boolean {
  const project = open(files);
  const { parts, findings } = prepareProfile(project, profileOf(project, 'tarn'), false);
  return (
    parts !== undefined && !findings.some(({ grade, code }) => grade === 'error' && code !== 'nowhere-expressible')
  );
}

const text = (files: MemoryFiles, path: string): string => {
  const read = files.read(hostPath(path));
  return read.kind === 'bytes' ? Buffer.from(read.bytes).toString() : '';
};

/** Settings of a dialect that it can say for one system. */
function narrowIn(dialect: string, scoped: RegExp): ReadonlySet<string> {
  const lines = dialect.split('\n').filter((line) => scoped.test(line));
  return new Set(lines.map((line) => /^ {2}([a-z.-]+): /.exec(line)?.[1] ?? ''));
}

const tally = { runs: 0, changed: 0, adopted: 0, left: 0 };

function isSamePlace(a: SettingPlace, b: SettingPlace): boolean {
  return a.setting === b.setting && a.instance === b.instance && JSON.stringify(a.scope) === JSON.stringify(b.scope);
}

function holds(place: Place, before: Layers, hand: Layers, flow: boolean): void {
  const files = workspace(place, before, flow);
  const other = workspace(place, hand, flow);
  fc.pre(compiles(files) && compiles(other));
  tally.runs += 1;
  writeCard(files, 'tarn', place.fromStock);
  const again = adoptCard(files, 'tarn');
  expect(again.plan.differences).toEqual([]);
  expect([...again.plan.texts.keys()]).toEqual([]);

  // The hand: another profile's values stand on the card.
  const own = ['/w/profiles/tarn.yaml', '/w/profiles/house.yaml'].map((path) => [path, text(files, path)] as const);
  for (const [path] of own) files.write(hostPath(path), Buffer.from(text(other, path)));
  writeCard(files, 'tarn');
  for (const [path, was] of own) files.write(hostPath(path), Buffer.from(was));

  const adopted = adoptCard(files, 'tarn');
  const { plan, told } = adopted;
  if (plan.differences.length > 0) tally.changed += 1;
  tally.adopted += told.changes.length;
  keep(files, adopted);
  // Another hold control may let a hotkey be said that the card does not have: then it is for the person to choose.
  if (told.left.some(({ setting }) => setting === 'hotkeys.hold')) {
    expect(told.remaining.filter(({ setting }) => !setting.startsWith('hotkeys.'))).toEqual([]);
    return;
  }
  const set = told.left.filter((one) => one.set);
  tally.left += set.length;
  expect({
    differences: plan.differences,
    left: told.left.map(({ setting, why }) => [setting, why]),
    remaining: told.remaining.filter((one) => !told.missing.some((other) => isSamePlace(one, other))),
    yaml: set.length > 0 ? own.map(([, was]) => was) : [],
  }).toEqual({
    differences: plan.differences,
    left: told.left.filter((one) => !one.set).map(({ setting, why }) => [setting, why]),
    remaining: [],
    yaml: [],
  });
  // Without a record, a key that a hand took out cannot be told from one that was never written: it is brought back.
  const wrote = writeCard(files, 'tarn');
  if (told.missing.length === 0) expect(wrote).toEqual([]);
  const after = adoptCard(files, 'tarn');
  expect(after.told.files).toEqual([]);
}

describe('compile and adopt are inverse', () => {
  it.each(fileSyntaxes.flatMap((syntax) => [[syntax, 'global'] as const, [syntax, 'each'] as const]))(
    'on a dialect of every codec in %s, hold %s',
    (syntax: FileSyntax, hold) => {
      const dialect = testDialect(syntax, hold);
      const among = new Set([...dialect.matchAll(/^ {2}([a-z-]+\.[a-z.-]+): /gm)].map((match) => match[1] ?? ''));
      if (hold === 'each') among.add('hotkeys.hold');
      const instance = (folder: string): object => ({
        dialect: 'tester@1',
        version: '1.0',
        root: `settings:${folder}`,
        cores: { dunnock: '1.2.0', thrush: '0.9.1', plover: '2.0.0', dunlin: '1.1.0' },
      });
      const place: Place = {
        device: Object.fromEntries(Object.entries(device).filter(([name]) => name !== 'os')),
        frontends: { hall: instance('hall'), annex: instance('annex') },
        dialects: { 'dialects/tester.yaml': dialect, 'catalogs/shelf.yaml': demo['catalogs/shelf.yaml'] ?? '' },
        card: Object.fromEntries(
          ['hall/main.txt', 'annex/main.txt', 'hall/systems/burdock.txt', 'annex/systems/orrery.txt'].map((path) => [
            `settings/${path}`,
            beginnings[syntax],
          ]),
        ),
        fromStock: false,
      };
      const given = twoLayers(among, narrowIn(dialect, /\{ instance: main, system: by-system \}/), [
        'hall',
        'annex',
        'tester',
      ]);
      fc.assert(
        fc.property(given, fc.boolean(), ([a, b], flow) => holds(place, a, b, flow)),
        { numRuns: Math.ceil(runs / 16) },
      );
    },
  );

  it('on the demo dialects', () => {
    const place: Place = {
      device,
      frontends: {
        ...(tarn['frontends'] as object),
        'harrow-annex': {
          dialect: 'harrow@^1.4',
          version: '2.1.4',
          root: 'settings:annex',
          bits: 32,
          cores: { dunnock: '1.2.0' },
        },
      },
      dialects: Object.fromEntries(Object.entries(demo).filter(([path]) => /^(dialects|catalogs)\//.test(path))),
      card: {},
      fromStock: true,
    };
    const given = twoLayers(
      // What is rewritten in play is never adopted.
      new Set(settings.filter(({ volatile }) => !volatile).map(({ id }) => id)),
      narrowIn(Buffer.from(demo['dialects/harrow.yaml'] ?? []).toString(), /\{ instance: main, system: by-system/),
      ['harrow-hall', 'harrow', 'withy', 'sill', 'coble'],
    );
    fc.assert(
      fc.property(given, fc.boolean(), ([a, b], flow) => holds(place, a, b, flow)),
      { numRuns: Math.ceil(runs / 8) },
    );
  });

  it('has tried something', () => {
    expect(tally.changed).toBeGreaterThan(tally.runs / 4);
    expect(tally.adopted).toBeGreaterThan(tally.runs / 4);
  });
});
