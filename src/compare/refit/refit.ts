import { positions } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { settings } from '../../vocabulary/registry.ts';
import { makeBranch } from './branch.ts';
import type { Branch } from './branch.ts';
import { addCounts, costOf, fitOf } from './fit.ts';
import type { Counts } from './fit.ts';
import { freeing, inTheWayAtHome } from './freeing.ts';
import type { Freeing } from './freeing.ts';
import { mayHold } from './kinds.ts';
import type { Blocked, Placing } from './placing.ts';
import type { Habit, HoldHabit, RefitProblem } from './problem.ts';
import { mostNodes, solve } from './solve.ts';
import type { Beginning } from './solve.ts';

/** One habit on the target. */
export interface Placed {
  readonly habit: Habit;
  readonly placing: Placing;
  /** Why it may not have the controls that it may not have. */
  readonly blocked: readonly Blocked[];
  /** Of a dropped one: what giving up would make room. */
  readonly freeing: readonly Freeing[];
  /** Ids of what has the controls on which hands know it, or is in their way. */
  readonly instead: readonly string[];
}

export interface PlacedHold {
  readonly hold: HoldHabit;
  readonly to: Position | undefined;
  readonly counts: Counts;
}

/** One whole proposal. */
export interface Proposal {
  readonly holds: readonly PlacedHold[];
  readonly placed: readonly Placed[];
  /** Everything summed, pairs of hotkeys too. */
  readonly counts: Counts;
  /** In thousandths of a point. */
  readonly cost: number;
  /** Whether every proposal that is not listed before it costs as much or more. */
  readonly proved: boolean;
}

export interface Refitted {
  /** Best first. */
  readonly proposals: readonly Proposal[];
  /** What any other costs at least, in thousandths of a point. */
  readonly bound: number;
  /** Parts of the search looked at. */
  readonly nodes: number;
}

const order = new Map(settings.map(({ id }, k) => [id.replace(/^hotkeys\.bind\./, ''), k]));

/** The best ways to carry habits over to another device. The order in which anything is given makes no difference. */
export function refit(given: RefitProblem, count = 3, most = mostNodes): Refitted {
  const problem = sorted(given);
  const choices = holdChoices(problem);
  const branches: (Branch | undefined)[] = choices.map(() => undefined);
  const branchOf = (k: number): Branch =>
    (branches[k] ??= makeBranch(problem, choices[k]?.to ?? [], choices[k]?.cost ?? 0));
  const beginnings = choices.map((choice, k): Beginning => ({ bound: choice.bound, task: () => branchOf(k).task }));
  const solved = solve(beginnings, count, most);
  const proposals = solved.solutions.map(({ beginning, choice, cost, proved }): Proposal => {
    const branch = branchOf(beginning);
    const holds = problem.holds.map((hold, k): PlacedHold => {
      const to = choices[beginning]?.to[k];
      return { hold, to, counts: holdCounts(problem, hold, to) };
    });
    const placed = problem.habits.map((habit, item): Placed => {
      const options = branch.options[item];
      const placing = options?.placings[choice[item] ?? -1] ?? { press: undefined, counts: {} };
      const dropped = placing.press === undefined;
      return {
        habit,
        placing,
        blocked: options?.blocked ?? [],
        freeing: dropped ? freeing(problem, branch, choice, item) : [],
        instead: inTheWayAtHome(problem, branch, choice, item),
      };
    });
    const single = addCounts([...holds.map(({ counts }) => counts), ...placed.map(({ placing }) => placing.counts)]);
    const pairs = (cost - costOf(single, problem.weights)) / costOf({ beside: 1 }, problem.weights);
    return {
      holds,
      placed,
      counts: pairs > 0 ? addCounts([single, { beside: pairs }]) : single,
      cost,
      proved,
    };
  });
  return { proposals, bound: solved.bound, nodes: solved.nodes };
}

/** In the order of the vocabulary, so that ties fall the same way however the problem is given. */
function sorted(problem: RefitProblem): RefitProblem {
  const byPosition = <T>(map: ReadonlyMap<Position, T>): ReadonlyMap<Position, T> =>
    new Map([...map].sort(([a], [b]) => positions.indexOf(a) - positions.indexOf(b)));
  const rank = (action: string): number => order.get(action) ?? order.size;
  const byAction = <T extends { readonly action: string }>(all: readonly T[], key: (one: T) => string): readonly T[] =>
    [...all].sort((a, b) => rank(a.action) - rank(b.action) || compare(key(a), key(b)));
  return {
    ...problem,
    from: { ...problem.from, controls: byPosition(problem.from.controls) },
    to: { ...problem.to, controls: byPosition(problem.to.controls) },
    holds: [...problem.holds].sort((a, b) => compare(a.id, b.id)),
    habits: byAction(problem.habits, ({ id }) => id),
    standing: byAction(problem.standing, ({ press, spots }) => JSON.stringify([press, spots])),
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

interface HoldChoice {
  readonly to: readonly (Position | undefined)[];
  readonly cost: number;
  readonly bound: number;
}

/** Every way to choose the hold controls, with what it costs by itself, and with its hotkeys at least. */
function holdChoices(problem: RefitProblem): readonly HoldChoice[] {
  const { holds, habits, weights } = problem;
  let ways: readonly (readonly (Position | undefined)[])[] = [[]];
  for (const hold of holds) {
    const may = mayBeHold(problem, hold);
    ways = ways.flatMap((way) => may.map((position) => [...way, position]));
  }
  return ways.map((to) => {
    const cost = holds.reduce((sum, hold, k) => sum + costOf(holdCounts(problem, hold, to[k]), weights), 0);
    const moving = holds.filter(({ from }, k) => from !== undefined && to[k] !== from);
    const bound = habits
      .filter(
        ({ press, spots }) =>
          press.kind === 'with-hold' && moving.some((hold) => spots.some((spot) => hold.spots.includes(spot))),
      )
      .reduce(
        (sum, { worth }) => sum + Math.min(costOf({ moved: 1 }, weights), costOf({ dropped: worth }, weights)),
        cost,
      );
    return { to, cost, bound };
  });
}

/** The target's controls that may be held; where hands know none, or nothing may be, its own stays as it is. */
function mayBeHold({ to }: RefitProblem, { from, now, pinned }: HoldHabit): readonly (Position | undefined)[] {
  if (from === undefined) return [now];
  const all = [...to.controls.keys()];
  if (pinned && all.includes(from)) return [from];
  const may = all.filter((position) => mayHold(position) || position === from || position === now);
  return may.length === 0 ? [now] : may;
}

function holdCounts({ from: known, to: target }: RefitProblem, { from }: HoldHabit, to: Position | undefined): Counts {
  if (from === undefined || to === undefined) return {};
  return addCounts([...(from === to ? [] : [{ moved: 1 }]), fitOf(known, from, target, to)]);
}
