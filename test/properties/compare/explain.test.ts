// What explain says of one side against another, held against what diff lists and against the profiles themselves.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Comparison } from '../../../src/model/comparison.ts';
import type { ExplainedCell, Explanation, Road } from '../../../src/model/parting.ts';
import type { Instance } from '../../../src/model/resolved.ts';
import { compareSides } from '../../../src/pipeline/compare-profiles.ts';
import type { ReadSide } from '../../../src/pipeline/compare-profiles.ts';
import { explainAgainst } from '../../../src/pipeline/explain-against.ts';
import type { Layers } from '../../support/adopt/random-sections.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { anyLayers, devicePairs, readSides, worldOf } from '../../support/compare/any-sides.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 200);
const stages = new Map<string, number>();

const name = (setting: string, item: string | undefined): string => JSON.stringify([setting, item ?? '']);

/** The settings that diff lists for frontends that have a counterpart. */
function listed({ settings: told, hotkeys, cannot }: Comparison): readonly string[] {
  return [
    ...told.filter(({ agree }) => agree !== true).map(({ setting, item }) => name(setting, item)),
    ...hotkeys.map(({ setting }) => name(setting, undefined)),
    ...cannot.map(({ setting, item }) => name(setting, item)),
  ];
}

function parted({ cells }: Explanation): readonly string[] {
  return cells.flatMap(({ setting, item, parting }) => (parting === undefined ? [] : [name(setting, item)]));
}

function set(names: readonly string[]): readonly string[] {
  return [...new Set(names)].sort();
}

function instanceOf({ parts }: ReadSide, called: string | undefined): Instance {
  const found = parts.resolved.instances.find((instance) => instance.name === called);
  if (found === undefined) throw new Error(`No instance ${called ?? ''}.`);
  return found;
}

/** The line that has the say is the one that the profile's own decision names, and no line out of reach could be it. */
function roadHolds(side: ReadSide, cell: ExplainedCell, road: Road, called: string | undefined): void {
  const instance = instanceOf(side, called);
  const decision = side.parts.resolved.decide(instance, cell.setting, cell.scope, cell.item);
  const say = road.lines.filter(({ fate }) => fate === 'has-the-say');
  if (road.unasked !== undefined) return;
  if (road.value.kind === 'value') expect(say.map(({ origin }) => origin.place)).toEqual([decision?.origin.place]);
  else expect(decision).toBeUndefined();
  expect(say.length).toBeLessThanOrEqual(1);
  for (const line of road.lines) {
    if (line.fate !== 'out-of-reach') continue;
    const only = /^it is only for (frontend|core|system|game) (.+)$/.exec(line.why ?? '');
    const asked = only?.[2]?.split(' or ') ?? [];
    if (only?.[1] === 'frontend') {
      expect(asked).not.toContain(instance.name);
      expect(asked).not.toContain(instance.dialect.data.dialect);
    } else if (only?.[1] === 'core') expect(asked).not.toContain(cell.scope.core);
    else if (only?.[1] === 'system') expect(asked).not.toContain(cell.scope.system);
    else if (only?.[1] === 'game') expect(asked).not.toContain(cell.scope.game);
    else expect(line.why).toBe(`${instance.name} has no core that it is about`);
  }
}

/** A line that one side is said to have of its own has the say there, and is none of the other's. */
function partingHolds(cell: ExplainedCell): void {
  const { parting, a, b } = cell;
  if (parting === undefined) return;
  stages.set(parting.stage, (stages.get(parting.stage) ?? 0) + 1);
  expect(parting.says).toMatch(/^\S.*\.$/);
  expect(parting.says).not.toMatch(/undefined|\[object|\( |: \.| {2}/);
  const text = (road: Road): string | undefined => road.lines.find(({ fate }) => fate === 'has-the-say')?.text;
  if (parting.stage === 'lines') expect(text(a)).not.toBe(text(b));
  if (parting.stage === 'controls' || parting.stage === 'cores') expect(text(a)).toBeDefined();
  if (parting.stage === 'labels' || parting.stage === 'ability')
    expect([a.value.kind, b.value.kind]).toContain('value');
}

/** One house whose first wishes one of the devices lacks, as it lacks Wi-Fi; and a line of its own. */
const everyStage: [Layers, Layers] = [
  {
    house: {
      hotkeys: { hold: 'mode', bind: { 'fast-forward': { control: ['trigger-right', 'east'] } } },
      cores: { choice: { burdock: ['thrush', 'dunnock'] } },
      achievements: { enabled: true },
    },
    profile: {},
    only: [],
  },
  { house: {}, profile: { saves: { 'state-on-exit': true } }, only: [] },
];

describe('explain --against', () => {
  it('names a point at which the sides part for what diff lists, and for nothing else', () => {
    fc.assert(
      fc.property(anyLayers, devicePairs, fc.constantFrom('own', 'shared'), (layers, which, house) => {
        const sides = readSides(worldOf(which, layers, house));
        fc.pre(sides !== undefined);
        const [a, b] = sides;
        expect(explainAgainst(a, a, undefined).cells).toEqual([]);
        const told = explainAgainst(a, b, undefined);
        expect(set(parted(told))).toEqual(set(listed(compareSides(a, b))));
        for (const cell of told.cells) {
          partingHolds(cell);
          roadHolds(a, cell, cell.a, cell.pair.a);
          roadHolds(b, cell, cell.b, cell.pair.b);
        }
        // Asked the other way round, they part at the same points.
        const at = ({ setting, item, scope, parting }: ExplainedCell): string =>
          JSON.stringify([setting, item, scope, parting?.stage]);
        expect(explainAgainst(b, a, undefined).cells.map(at).sort()).toEqual(told.cells.map(at).sort());
        // Of one setting the same is told as of all; of one that does not differ, that it does not.
        const some = settings.filter((_, k) => k % 17 === layers.length + (told.cells.length % 15));
        for (const { id } of some) {
          expect(parted(explainAgainst(a, b, id))).toEqual(parted(told).filter((one) => one.startsWith(`["${id}"`)));
          expect(parted(explainAgainst(a, a, id))).toEqual([]);
        }
      }),
      { numRuns: Math.ceil(runs / 8), examples: [[everyStage, ['fen', 'mere'], 'shared']] },
    );
  });

  it('has tried every stage that one profile can be other in', () => {
    for (const stage of ['lines', 'controls', 'cores', 'labels', 'ability'])
      expect([...stages.keys()]).toContain(stage);
  });
});
