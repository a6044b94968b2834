import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Comparison, InstancePair, SettingDifference, SideValue } from '../../src/model/comparison.ts';
import { countDifferences } from '../../src/model/comparison.ts';
import type { Instance, Resolved, ScopePoint } from '../../src/model/resolved.ts';
import { compareSides } from '../../src/pipeline/compare-profiles.ts';
import type { ReadSide } from '../../src/pipeline/compare-profiles.ts';
import { settings } from '../../src/vocabulary/registry.ts';
import type { Layers } from '../support/adopt/random-sections.ts';
import { anyLayers, devicePairs, readSides, worldOf } from '../support/compare/any-sides.ts';
import { plain, sorted, upwards, valueOf } from '../support/compare/plain.ts';
import type { Names } from '../support/compare/plain.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 200);

/** Every point at which either profile could say something: all systems, cores and games that a layer names, crossed. */
function allPoints(...resolved: readonly Resolved[]): readonly ScopePoint[] {
  const points = resolved.flatMap((one) =>
    one.instances.flatMap((instance) =>
      settings.flatMap(({ id }) => one.items(instance, id).flatMap((item) => one.points(instance, id, item))),
    ),
  );
  const cores = [...new Set(points.map(({ core }) => core))];
  const systems = [...new Set(points.map(({ system, game }) => JSON.stringify([system, game])))];
  return systems.flatMap((written) => {
    const [system, game] = JSON.parse(written) as readonly [string | null, string | null];
    return cores.map((core) => ({
      ...(core === undefined ? {} : { core }),
      ...(system === null ? {} : { system }),
      ...(game === null ? {} : { game }),
    }));
  });
}

function sidesOf(a: ReadSide, b: ReadSide, pair: InstancePair): readonly [Instance, Instance] {
  const find = ({ parts }: ReadSide, name: string | undefined): Instance => {
    const found = parts.resolved.instances.find((instance) => instance.name === name);
    if (found === undefined) throw new Error(`No instance ${name ?? ''}.`);
    return found;
  };
  return [find(a, pair.a), find(b, pair.b)];
}

const tally = { runs: 0, differing: 0, narrow: 0 };

/** What is told, applied to A, gives B: at every scope of every setting of every pair. */
function becomes(a: ReadSide, b: ReadSide, told: Comparison): void {
  const [one, two] = [a.parts.resolved, b.parts.resolved];
  const points = allPoints(one, two);
  const complete = told.pairs.filter((pair) => pair.a !== undefined && pair.b !== undefined);
  const namesA: Names = new Map(complete.map((pair, at) => [pair.a ?? '', `pair ${at}`]));
  const namesB: Names = new Map(complete.map((pair, at) => [pair.b ?? '', `pair ${at}`]));
  for (const pair of complete) {
    const [instanceA, instanceB] = sidesOf(a, b, pair);
    const [holdA, holdB] = [one.holds.get(instanceA.name), two.holds.get(instanceB.name)];
    for (const { id, roles } of settings) {
      if (!roles.some((role) => instanceA.roles.includes(role) && instanceB.roles.includes(role))) continue;
      for (const item of new Set([...one.items(instanceA, id), ...two.items(instanceB, id)])) {
        const entries = told.settings.filter(
          (entry) =>
            entry.setting === id &&
            entry.item === item &&
            entry.pairs.some((among) => among.a === pair.a && among.b === pair.b),
        );
        for (const point of points) {
          const own = plain(id, one.decide(instanceA, id, point, item)?.value, holdA, namesA);
          const entry = upwards(point)
            .map((at) => entries.find(({ scope }) => JSON.stringify(sorted(scope)) === JSON.stringify(sorted(at))))
            .find((found) => found !== undefined);
          const applied =
            entry !== undefined && plain(id, valueOf(entry.a), holdA, namesA) === own
              ? plain(id, valueOf(entry.b), holdB, namesB)
              : own;
          const wanted = plain(id, two.decide(instanceB, id, point, item)?.value, holdB, namesB);
          expect({ id, item, point, pair, applied }).toEqual({ id, item, point, pair, applied: wanted });
        }
      }
    }
  }
}

const turned = ({ a, b }: InstancePair): InstancePair => ({ a: b, b: a });

function turnedEntry(entry: SettingDifference): unknown {
  const { setting, item, scope, a, b, reasons, agree } = entry;
  return {
    ...{ setting, item, scope, agree },
    ...{ a: text(b), b: text(a), reasons: { a: reasons.b, b: reasons.a } },
    pairs: entry.pairs.map((pair) => JSON.stringify(turned(pair))).sort(),
  };
}

function text(side: SideValue): unknown {
  return side.kind === 'left-alone'
    ? side.kind
    : [side.text, side.origin?.place.source.name, side.origin?.place.span.start];
}

const byText = (a: unknown, b: unknown): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);
const other = { a: 'b', b: 'a' } as const;

/** All of a comparison that speaks of both sides alike, with the sides changed over. */
function mirrored(told: Comparison): unknown {
  const change = { 'only-a': 'only-b', 'only-b': 'only-a' } as const;
  return {
    settings: told.settings.map(turnedEntry).sort(byText),
    hotkeys: told.hotkeys
      .map((one) => ({
        ...{ setting: one.setting, scope: one.scope, a: one.b?.text, b: one.a?.text },
        change: one.change === 'only-a' || one.change === 'only-b' ? change[one.change] : one.change,
        pairs: one.pairs.map((pair) => JSON.stringify(turned(pair))).sort(),
      }))
      .sort(byText),
    cannot: told.cannot
      .map((one) => ({ ...one, side: other[one.side], instances: [...one.instances].sort() }))
      .sort(byText),
    lone: told.lone
      .map(({ side, instance, says }) => ({ side: other[side], instance, says: says.length }))
      .sort(byText),
    controls: told.controls.map(({ position, a, b }) => [position, b?.label, a?.label]),
    facts: told.facts
      .map(({ fact, a, b }) => [fact.replace(/^(extra )?(\S+) \/ ([^\s,]+)/, '$1$3 / $2'), b?.text, a?.text])
      .sort(byText),
  };
}

/** The same, as it is. */
function asIs(told: Comparison): unknown {
  return mirrored({
    ...told,
    settings: told.settings.map((one) => ({
      ...one,
      a: one.b,
      b: one.a,
      reasons: { a: one.reasons.b, b: one.reasons.a },
      pairs: one.pairs.map(turned),
    })),
    hotkeys: told.hotkeys.map((one) => ({
      ...one,
      a: one.b,
      b: one.a,
      change: one.change === 'only-a' ? 'only-b' : one.change === 'only-b' ? 'only-a' : one.change,
      pairs: one.pairs.map(turned),
    })),
    cannot: told.cannot.map((one) => ({ ...one, side: other[one.side] })),
    lone: told.lone.map((one) => ({ ...one, side: other[one.side] })),
    controls: told.controls.map((one) => ({ ...one, a: one.b, b: one.a })),
    facts: told.facts.map(({ fact, a, b }) => ({
      fact: fact.replace(/^(extra )?(\S+) \/ ([^\s,]+)/, '$1$3 / $2'),
      a: b,
      b: a,
    })),
  });
}

/** An option of a core, and a system that another setting tells apart: the option holds there too. */
const optionOfACore: [Layers, Layers] = [
  { house: {}, profile: {}, only: [] },
  {
    house: {},
    profile: {},
    only: [
      {
        for: { frontend: 'harrow-hall' },
        sections: { cores: { choice: { burdock: ['dunnock'] }, options: { thrush: { reed: ' ' } } } },
      },
    ],
  },
];
describe('diff', () => {
  it('is empty of a profile against itself; A/B is the mirror of B/A; and what it tells makes A into B', () => {
    fc.assert(
      fc.property(anyLayers, devicePairs, (layers, which) => {
        const sides = readSides(worldOf(which, layers));
        fc.pre(sides !== undefined);
        const [a, b] = sides;
        tally.runs += 1;
        const itself = compareSides(a, a);
        expect({ differences: countDifferences(itself), ...itself, pairs: [], a: 0, b: 0, controls: 0 }).toEqual({
          ...{ differences: 0, settings: [], lone: [], facts: [], hotkeys: [], cannot: [], hands: [], untold: [] },
          ...{ pairs: [], a: 0, b: 0, controls: 0 },
        });
        const told = compareSides(a, b);
        const back = compareSides(b, a);
        expect(mirrored(back)).toEqual(asIs(told));
        becomes(a, b, told);
        becomes(b, a, back);
        if (told.settings.length > 0) tally.differing += 1;
        if (told.settings.some(({ scope }) => Object.keys(scope).length > 0)) tally.narrow += 1;
      }),
      { numRuns: Math.ceil(runs / 8), examples: [[optionOfACore, ['tarn', 'tarn']]] },
    );
  });

  it('has tried something', () => {
    expect(tally.differing).toBeGreaterThan(tally.runs / 2);
    expect(tally.narrow).toBeGreaterThan(tally.runs / 20);
  });
});
