import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeValues } from '../../src/dialect/place-values.ts';
import type { ScopePoint } from '../../src/model/resolved.ts';
import type { Scope } from '../../src/vocabulary/types.ts';

/**
 * The reader here is a model of a frontend, written against the words of files.md ('later over earlier') and sharing
 * nothing with the code under test; the minimum is found by trying every set of keys.
 */
const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const scopes: readonly Scope[] = ['instance', 'core', 'system', 'game'];

interface Key {
  readonly scope: Scope;
  readonly core?: string;
  readonly system?: string;
  readonly game?: string;
  readonly value: string;
}

function reaches(key: Omit<Key, 'value'>, point: ScopePoint): boolean {
  if (key.scope === 'core') return key.core === point.core;
  if (key.scope === 'system') return key.system === point.system;
  if (key.scope === 'game') return key.system === point.system && key.game === point.game;
  return true;
}

function frontendReads(order: readonly Scope[], keys: readonly Key[], point: ScopePoint): string | undefined {
  let value: string | undefined;
  for (const scope of order) for (const key of keys) if (key.scope === scope && reaches(key, point)) value = key.value;
  return value;
}

function wider(a: ScopePoint, b: ScopePoint): boolean {
  const size = (p: ScopePoint): number => Object.values(p).length;
  return (
    size(a) < size(b) &&
    Object.entries(a).every(([name, value]) => Object.entries(b).some(([n, v]) => n === name && v === value))
  );
}

type World = readonly { readonly point: ScopePoint; readonly want: string | undefined }[];

/** Undefined when the placement breaks a rule; else its cost, most telling first. */
function judge(order: readonly Scope[], world: World, keys: readonly Key[]): readonly number[] | undefined {
  let missed = 0;
  let other = 0;
  let width = 0;
  for (const { point, want } of world) {
    if (want === undefined) {
      if (keys.some((key) => reaches(key, point))) return undefined;
      continue;
    }
    const value = frontendReads(order, keys, point);
    if (value === want) continue;
    if (value !== undefined && !world.some((w) => w.want === value && wider(w.point, point))) return undefined;
    missed += 1;
    if (value !== undefined) other += 1;
    width += 3 - Object.values(point).length;
  }
  return [missed, other, width, keys.length];
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return (a[at] ?? 0) - (b[at] ?? 0);
  return 0;
}

function bruteMinimum(order: readonly Scope[], available: readonly Scope[], world: World): readonly number[] {
  const slots = new Map<string, Omit<Key, 'value'>>();
  for (const { point } of world) {
    if (available.includes('instance')) slots.set('i', { scope: 'instance' });
    if (available.includes('core') && point.core !== undefined)
      slots.set(`c${point.core}`, { scope: 'core', core: point.core });
    if (available.includes('system') && point.system !== undefined)
      slots.set(`s${point.system}`, { scope: 'system', system: point.system });
    if (available.includes('game') && point.system !== undefined && point.game !== undefined) {
      slots.set(`g${point.system}/${point.game}`, { scope: 'game', system: point.system, game: point.game });
    }
  }
  const values = [...new Set(world.map((w) => w.want))].filter((v) => v !== undefined);
  let best: readonly number[] = judge(order, world, []) ?? [];
  const list = [...slots.values()];
  const walk = (at: number, keys: readonly Key[]): void => {
    const slot = list[at];
    if (slot === undefined) {
      const cost = judge(order, world, keys);
      if (cost !== undefined && compare(cost, best) < 0) best = cost;
      return;
    }
    walk(at + 1, keys);
    for (const value of values) walk(at + 1, [...keys, { ...slot, value }]);
  };
  walk(0, []);
  return best;
}

const permutations = (list: readonly Scope[]): readonly (readonly Scope[])[] =>
  list.length === 0
    ? [[]]
    : list.flatMap((head) => permutations(list.filter((x) => x !== head)).map((rest) => [head, ...rest]));
const orders = permutations(scopes);
const mixes = scopes.reduce<readonly (readonly Scope[])[]>(
  (all, scope) => [...all, ...all.map((mix) => [...mix, scope])],
  [[]],
);

const worldOf = (wants: fc.Arbitrary<string | undefined>): fc.Arbitrary<World> =>
  fc
    .record({ cores: fc.subarray(['c1', 'c2']), systems: fc.subarray(['s1', 's2']), game: fc.boolean() })
    .chain(({ cores, systems, game }) => {
      const points: ScopePoint[] = [];
      for (const core of [undefined, ...cores]) {
        for (const system of [undefined, ...systems]) {
          for (const g of [undefined, ...(game && system === 's1' ? ['g1'] : [])]) {
            points.push({
              ...(core === undefined ? {} : { core }),
              ...(system === undefined ? {} : { system }),
              ...(g === undefined ? {} : { game: g }),
            });
          }
        }
      }
      return fc.tuple(...points.map((point) => wants.map((want) => ({ point, want }))));
    });

/** As layers give them: each point takes the narrowest of some values given at some points. */
const layered: fc.Arbitrary<World> = worldOf(fc.option(fc.constantFrom('a', 'b'), { nil: undefined, freq: 1 })).map(
  (world) =>
    world.map(({ point, want }) => {
      const near = world.filter((w) => wider(w.point, point) && w.want !== undefined).at(-1);
      return { point, want: want ?? near?.want };
    }),
);

const asKey = ({ scope, value }: { scope: ScopePoint; value: string }): Key => ({
  scope:
    scope.game !== undefined
      ? 'game'
      : scope.system !== undefined
        ? 'system'
        : scope.core !== undefined
          ? 'core'
          : 'instance',
  ...scope,
  value,
});

describe('placing values', () => {
  const setting = fc.tuple(
    fc.constantFrom(...orders),
    fc.constantFrom(...mixes),
    fc.oneof(layered, worldOf(fc.option(fc.constantFrom('a', 'b'), { nil: undefined, freq: 3 }))),
  );

  it('serves every point that it does not give up, by a frontend that reads in that order, with the fewest keys', () => {
    fc.assert(
      fc.property(setting, ([order, available, world]) => {
        const placed = placeValues(
          order,
          available,
          world.map((w) => w.point),
          (point) => world.find((w) => JSON.stringify(w.point) === JSON.stringify(point))?.want,
        );
        const keys = placed.keys.map(asKey);
        expect(keys.every((key) => available.includes(key.scope))).toBe(true);
        const cost = judge(order, world, keys);
        expect(cost).toEqual(bruteMinimum(order, available, world));
        const missed = world.filter((w) => w.want !== undefined && frontendReads(order, keys, w.point) !== w.want);
        expect(placed.cannot).toEqual(missed.map((w) => w.point));
        expect(placed.fewest).toBe(true);
      }),
      { numRuns: runs },
    );
  });

  it('holds for every order and every mix of scopes on one world that needs all of them', () => {
    const points: readonly ScopePoint[] = [
      {},
      { core: 'c1' },
      { system: 's1' },
      { core: 'c1', system: 's1' },
      { system: 's1', game: 'g1' },
      { core: 'c1', system: 's1', game: 'g1' },
    ];
    const wants = ['a', 'b', 'c', 'c', 'a', 'a'];
    const world: World = points.map((point, at) => ({ point, want: wants[at] }));
    for (const order of orders) {
      for (const available of mixes) {
        const placed = placeValues(order, available, points, (point) => wants[points.indexOf(point)]);
        expect(judge(order, world, placed.keys.map(asKey))).toEqual(bruteMinimum(order, available, world));
      }
    }
  });

  it('stays sound on a world too large to search', () => {
    const points: ScopePoint[] = [{}];
    for (let c = 0; c < 14; c++) {
      points.push({ core: `c${c}` });
      for (let s = 0; s < 14; s++) points.push({ core: `c${c}`, system: `s${s}` });
    }
    for (let s = 0; s < 14; s++) points.push({ system: `s${s}` });
    const want = (point: ScopePoint): string => `v${(points.indexOf(point) * 7919) % 3}`;
    const world = points.map((point) => ({ point, want: want(point) }));
    const placed = placeValues(['instance', 'system', 'core', 'game'], scopes, points, want);
    const cost = judge(['instance', 'system', 'core', 'game'], world, placed.keys.map(asKey));
    expect(cost).toBeDefined();
    expect(cost?.[0]).toBe(placed.cannot.length);
  });

  it('says a general value in one key, and a narrow one in one more', () => {
    const placed = placeValues(['instance', 'core', 'system', 'game'], scopes, [{}, { system: 'burdock' }], (p) =>
      p.system === undefined ? 'on' : 'off',
    );
    expect(placed.keys).toEqual([
      { scope: {}, value: 'on' },
      { scope: { system: 'burdock' }, value: 'off' },
    ]);
  });

  it('never says for all what was asked for one system', () => {
    const placed = placeValues(['instance', 'system'], ['instance'], [{}, { system: 'burdock' }], (p) =>
      p.system === undefined ? undefined : 'off',
    );
    expect(placed).toEqual({ keys: [], cannot: [{ system: 'burdock' }], fewest: true });
  });
});
