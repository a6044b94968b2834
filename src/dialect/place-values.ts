import type { ScopePoint } from '../model/resolved.ts';
import type { Scope } from '../vocabulary/types.ts';

/** One key: the scope it is written at (empty: the whole instance) and the value it holds. */
export interface PlacedKey<V> {
  readonly scope: ScopePoint;
  readonly value: V;
}

export interface Placement<V> {
  /** Instance first, then cores, systems and games in the order of the points. */
  readonly keys: readonly PlacedKey<V>[];
  /** Points whose value cannot be said with these scopes, in the order given. */
  readonly cannot: readonly ScopePoint[];
  /** False when the search was cut short: the placement is sound, but might take more keys than needed. */
  readonly fewest: boolean;
}

/** Looks at single points before the best placement so far is taken: about a second's work. */
const limit = 4_000_000;

/** Compared member by member: points not served, points that read another value, how wide those are, keys. */
type Cost = readonly [number, number, number, number];
const free: Cost = [0, 0, 0, 0];
const oneKey: Cost = [0, 0, 0, 1];
/** Dearer than any number of points. */
const forbidden: Cost = [Infinity, Infinity, Infinity, Infinity];

function sum(a: Cost, b: Cost): Cost {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]];
}

function times(cost: Cost, by: number): Cost {
  return [cost[0] * by, cost[1] * by, cost[2] * by, cost[3] * by];
}

function less(a: Cost, b: Cost): boolean {
  if (a[0] !== b[0]) return a[0] < b[0];
  if (a[1] !== b[1]) return a[1] < b[1];
  if (a[2] !== b[2]) return a[2] < b[2];
  return a[3] < b[3];
}

/** A point with its wish as a small number (-1: nothing may reach it) and the wishes that it may read instead. */
interface Cell {
  readonly point: ScopePoint;
  readonly want: number;
  /** Wishes of wider points: what it may read when its own cannot be said. */
  readonly instead: ReadonlySet<number>;
}

interface GameColumn {
  readonly game: string;
  readonly cells: readonly Cell[];
  readonly domain: readonly number[];
}

interface SystemColumn {
  readonly system: string | undefined;
  readonly plain: readonly Cell[];
  readonly games: readonly GameColumn[];
  readonly domain: readonly number[];
  readonly like: readonly (string | undefined)[];
}

interface CoreRow {
  readonly cores: readonly string[];
  readonly domain: readonly number[];
}

/** Key values by scope at one point; -1: no key. */
type Keys = Readonly<Record<Scope, number>>;

/**
 * The fewest keys such that a frontend that reads its scopes in `order` (later over earlier) reads at every point what
 * is wanted there. `points` is the whole world: every combination that is told apart, an absent member meaning 'any
 * other'. A point that wants nothing is reached by no key. A point that cannot be served with the `available` scopes
 * is in `cannot`, and reads nothing, or what a wider point wants: never the value of a narrower or another one. Among
 * placements, fewest `cannot` comes first, then fewest of them that read another value, then the narrower ones, then
 * fewest keys. Values are compared by identity.
 *
 * Exact: given the keys of instance and cores, each system is a problem of its own, so the search branches over core
 * keys alone, cores that are alike taken together, and is cut by what the systems cost at least.
 */
export function placeValues<V>(
  order: readonly Scope[],
  available: readonly Scope[],
  points: readonly ScopePoint[],
  want: (point: ScopePoint) => V | undefined,
): Placement<V> {
  const { cells, values } = readCells(points, want);
  const read = order.filter((scope) => available.includes(scope)).reverse();
  const problem = new Problem(read, cells);
  const { keys, fewest } = problem.solve();
  const placed: PlacedKey<V>[] = [];
  for (const { scope, value } of keys) {
    const held = values[value];
    if (held !== undefined) placed.push({ scope, value: held });
  }
  const cannot = cells.filter((cell) => cell.want >= 0 && readAt(read, keys, cell.point) !== cell.want);
  return { keys: placed, cannot: cannot.map((cell) => cell.point), fewest };
}

function readCells<V>(
  points: readonly ScopePoint[],
  want: (point: ScopePoint) => V | undefined,
): { readonly cells: readonly Cell[]; readonly values: readonly V[] } {
  const numbers = new Map<V, number>();
  const seen = new Set<string>();
  const wants: { point: ScopePoint; want: number }[] = [];
  for (const point of points) {
    const key = JSON.stringify([point.core, point.system, point.game]);
    if (seen.has(key)) continue;
    seen.add(key);
    const value = want(point);
    let number = -1;
    if (value !== undefined) {
      number = numbers.get(value) ?? numbers.size;
      numbers.set(value, number);
    }
    wants.push({ point, want: number });
  }
  const byPoint = new Map(wants.map((w) => [pointId(w.point), w.want]));
  const cells = wants.map(({ point, want: own }) => {
    const instead = new Set<number>();
    for (const wider of widerPoints(point)) {
      const value = byPoint.get(pointId(wider));
      if (value !== undefined && value >= 0) instead.add(value);
    }
    return { point, want: own, instead };
  });
  return { cells, values: [...numbers.keys()] };
}

function pointId(point: ScopePoint): string {
  return JSON.stringify([point.core, point.system, point.game]);
}

/** Every point with some members of this one left out. */
function widerPoints(point: ScopePoint): readonly ScopePoint[] {
  const members = (['core', 'system', 'game'] as const).filter((name) => point[name] !== undefined);
  const wider: ScopePoint[] = [];
  for (let mask = 0; mask < (1 << members.length) - 1; mask++) {
    const kept = members.filter((_, at) => (mask & (1 << at)) !== 0);
    wider.push(Object.fromEntries(kept.map((name) => [name, point[name]])));
  }
  return wider;
}

function readAt(
  read: readonly Scope[],
  keys: readonly { scope: ScopePoint; value: number }[],
  point: ScopePoint,
): number {
  for (const scope of read) {
    for (const key of keys) {
      if (scopeOf(key.scope) !== scope) continue;
      if ((['core', 'system', 'game'] as const).every((m) => key.scope[m] === undefined || key.scope[m] === point[m])) {
        return key.value;
      }
    }
  }
  return -1;
}

/** The scope that a point is at: the narrowest of its members. */
export function scopeOf(point: ScopePoint): Scope {
  if (point.game !== undefined) return 'game';
  if (point.system !== undefined) return 'system';
  return point.core !== undefined ? 'core' : 'instance';
}

class Problem {
  private readonly read: readonly Scope[];
  private readonly cells: readonly Cell[];
  private readonly rows: readonly CoreRow[];
  private readonly columns: readonly SystemColumn[];
  private readonly rowOf = new Map<string, number>();
  private looks = 0;

  constructor(read: readonly Scope[], cells: readonly Cell[]) {
    this.read = read;
    this.cells = cells;
    this.rows = this.readRows();
    this.rows.forEach((row, at) => row.cores.forEach((core) => this.rowOf.set(core, at)));
    this.columns = this.readColumns();
  }

  /** Values worth giving a key that reaches these cells; none when one of them is not to be reached. */
  private domainOf(scope: Scope, cells: readonly Cell[]): readonly number[] {
    if (!this.read.includes(scope) || cells.some((cell) => cell.want < 0)) return [];
    const domain = new Set(cells.map((cell) => cell.want));
    for (const cell of cells) for (const value of cell.instead) domain.add(value);
    return [...domain];
  }

  /** Cores with the same wishes everywhere take the same key in some best placement: each is a class of its own. */
  private readRows(): readonly CoreRow[] {
    const byCore = new Map<string, Cell[]>();
    for (const cell of this.cells) {
      const { core } = cell.point;
      if (core === undefined) continue;
      const known = byCore.get(core);
      if (known === undefined) byCore.set(core, [cell]);
      else known.push(cell);
    }
    const classes = new Map<string, { cores: string[]; domain: readonly number[] }>();
    for (const [core, cells] of byCore) {
      const domain = this.domainOf('core', cells);
      const likeness = JSON.stringify(
        cells.map((cell) => [cell.point.system, cell.point.game, cell.want, [...cell.instead].sort()]).sort(),
      );
      const known = classes.get(likeness);
      if (known === undefined) classes.set(likeness, { cores: [core], domain });
      else known.cores.push(core);
    }
    return [...classes.values()];
  }

  private readColumns(): readonly SystemColumn[] {
    const bySystem = new Map<string | undefined, Cell[]>();
    for (const cell of this.cells) {
      const known = bySystem.get(cell.point.system);
      if (known === undefined) bySystem.set(cell.point.system, [cell]);
      else known.push(cell);
    }
    const classes = new Map<string, { column: SystemColumn; like: (string | undefined)[] }>();
    for (const [system, cells] of bySystem) {
      const likeness = JSON.stringify([
        system === undefined,
        cells.map((cell) => [cell.point.core, cell.point.game, cell.want, [...cell.instead].sort()]).sort(),
      ]);
      const known = classes.get(likeness);
      if (known !== undefined) {
        known.like.push(system);
        continue;
      }
      const games = new Map<string, Cell[]>();
      for (const cell of cells) {
        const { game } = cell.point;
        if (game === undefined) continue;
        const list = games.get(game);
        if (list === undefined) games.set(game, [cell]);
        else list.push(cell);
      }
      const like = [system];
      const column: SystemColumn = {
        system,
        plain: cells.filter((cell) => cell.point.game === undefined),
        games: [...games].map(([game, list]) => ({ game, cells: list, domain: this.domainOf('game', list) })),
        domain: system === undefined ? [] : this.domainOf('system', cells),
        like,
      };
      classes.set(likeness, { column, like });
    }
    return [...classes.values()].map((entry) => entry.column);
  }

  private costAt(cell: Cell, keys: Keys): Cost {
    let value = -1;
    for (const scope of this.read) {
      if (keys[scope] >= 0) {
        value = keys[scope];
        break;
      }
    }
    if (value === cell.want) return free;
    if (cell.want < 0) return forbidden;
    const { core, system, game } = cell.point;
    const width = 3 - (core === undefined ? 0 : 1) - (system === undefined ? 0 : 1) - (game === undefined ? 0 : 1);
    if (value < 0) return [1, 0, width, 0];
    return cell.instead.has(value) ? [1, 1, width, 0] : forbidden;
  }

  /** The cost of one core's cells is counted once for each core of its class. Cores of undecided rows cost nothing yet. */
  private costOf(
    cells: readonly Cell[],
    instance: number,
    cores: readonly number[],
    system: number,
    game: number,
  ): Cost {
    let cost = free;
    this.looks += cells.length;
    for (const cell of cells) {
      const row = cell.point.core === undefined ? undefined : this.rowOf.get(cell.point.core);
      const core = row === undefined ? -1 : cores[row];
      if (core === undefined) continue;
      cost = sum(cost, this.costAt(cell, { instance, core, system, game }));
    }
    return cost;
  }

  private bestColumn(
    column: SystemColumn,
    instance: number,
    cores: readonly number[],
  ): { cost: Cost; system: number; games: readonly number[] } {
    let best: { cost: Cost; system: number; games: readonly number[] } | undefined;
    for (const system of [-1, ...column.domain]) {
      let cost = sum(system < 0 ? free : oneKey, this.costOf(column.plain, instance, cores, system, -1));
      const games: number[] = [];
      for (const game of column.games) {
        let bestGame = -1;
        let bestCost = this.costOf(game.cells, instance, cores, system, -1);
        for (const value of game.domain) {
          const with_ = sum(oneKey, this.costOf(game.cells, instance, cores, system, value));
          if (less(with_, bestCost)) [bestGame, bestCost] = [value, with_];
        }
        games.push(bestGame);
        cost = sum(cost, bestCost);
      }
      if (best === undefined || less(cost, best.cost)) best = { cost, system, games };
    }
    return best ?? { cost: free, system: -1, games: [] };
  }

  /** What the decided keys cost, and every system at its best over the cells of decided cores: never too much. */
  private bound(instance: number, cores: readonly number[]): Cost {
    let cost: Cost = instance < 0 ? free : oneKey;
    cores.forEach((value, at) => {
      if (value >= 0) cost = sum(cost, times(oneKey, this.rows[at]?.cores.length ?? 0));
    });
    for (const column of this.columns) {
      cost = sum(cost, times(this.bestColumn(column, instance, cores).cost, column.like.length));
    }
    return cost;
  }

  solve(): { readonly keys: readonly { scope: ScopePoint; value: number }[]; readonly fewest: boolean } {
    let best: { cost: Cost; instance: number; cores: readonly number[] } = {
      cost: this.bound(
        -1,
        this.rows.map(() => -1),
      ),
      instance: -1,
      cores: this.rows.map(() => -1),
    };
    const search = (instance: number, cores: readonly number[]): void => {
      if (this.looks > limit) return;
      const cost = this.bound(instance, cores);
      if (!less(cost, best.cost)) return;
      const row = this.rows[cores.length];
      if (row === undefined) {
        best = { cost, instance, cores };
        return;
      }
      // The cheapest choice first, so that a cut search has a good placement in hand.
      const choices = [-1, ...row.domain].map((value) => ({ value, cost: this.bound(instance, [...cores, value]) }));
      choices.sort((a, b) => (less(a.cost, b.cost) ? -1 : less(b.cost, a.cost) ? 1 : 0));
      for (const { value } of choices) search(instance, [...cores, value]);
    };
    for (const instance of [...this.domainOf('instance', this.cells), -1]) search(instance, []);
    return { keys: this.keysOf(best.instance, best.cores), fewest: this.looks <= limit };
  }

  private keysOf(instance: number, cores: readonly number[]): readonly { scope: ScopePoint; value: number }[] {
    const keys: { scope: ScopePoint; value: number }[] = [];
    const add = (scope: ScopePoint, value: number): void => {
      if (value >= 0) keys.push({ scope, value });
    };
    add({}, instance);
    this.rows.forEach((row, at) => row.cores.forEach((core) => add({ core }, cores[at] ?? -1)));
    for (const column of this.columns) {
      const { system: value, games } = this.bestColumn(column, instance, cores);
      for (const system of column.like) {
        if (system !== undefined) add({ system }, value);
        column.games.forEach((game, at) => {
          add({ ...(system === undefined ? {} : { system }), game: game.game }, games[at] ?? -1);
        });
      }
    }
    const rank = new Map(this.cells.map((cell, at) => [pointId(cell.point), at]));
    const scopes: readonly Scope[] = ['instance', 'core', 'system', 'game'];
    return keys.sort(
      (a, b) =>
        scopes.indexOf(scopeOf(a.scope)) - scopes.indexOf(scopeOf(b.scope)) ||
        (rank.get(pointId(a.scope)) ?? Infinity) - (rank.get(pointId(b.scope)) ?? Infinity) ||
        (pointId(a.scope) < pointId(b.scope) ? -1 : 1),
    );
  }
}
