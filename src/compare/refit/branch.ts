import { areNeighbours } from '../../controls/chords/neighbours.ts';
import { positions } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { costOf } from './fit.ts';
import { optionsFor, whyNot } from './options.ts';
import type { Held, Options } from './options.ts';
import { chordOf, isWithin, sameSet } from './placing.ts';
import type { Placing } from './placing.ts';
import type { Habit, RefitProblem, Spot, Standing } from './problem.ts';
import type { Option, Task } from './task.ts';

/** The choice that is left when the hold controls are decided. Items are the habits, then what stands. */
export interface Branch {
  readonly task: Task;
  /** By habit. */
  readonly options: readonly Options[];
}

interface Item {
  readonly spots: ReadonlySet<Spot>;
  readonly placings: readonly Placing[];
  readonly destructive: boolean;
  readonly frequent: boolean;
  readonly standing: boolean;
}

/** How two items meet: the hold controls where both act, and whether a shorter chord acts on the way to a longer one there. */
interface Meeting {
  readonly holds: readonly (Position | undefined)[];
  readonly onPress: boolean;
  /** One loses something and the other is pressed often. */
  readonly risky: boolean;
  /** One stands on the hold control itself, and is pressed with nothing else. */
  readonly onHold: boolean;
}

/** `to`: the hold control by hold habit. */
export function makeBranch(problem: RefitProblem, to: readonly (Position | undefined)[], base: number): Branch {
  const heldAt = new Map<Spot, Held>();
  problem.holds.forEach(({ from, spots }, k) => {
    for (const spot of spots) heldAt.set(spot, { from, to: to[k] });
  });
  const none: Held = { from: undefined, to: undefined };
  const options = problem.habits.map((habit) => {
    const holds = new Map(habit.spots.map((spot) => [JSON.stringify(heldAt.get(spot)), heldAt.get(spot) ?? none]));
    return optionsFor(problem, habit, [...holds.values()]);
  });
  const items: readonly Item[] = [
    ...problem.habits.map((habit, k) => itemOf(habit, options[k]?.placings ?? [], false)),
    ...problem.standing.map((own) => itemOf(own, [{ press: own.press, counts: {} }], true)),
  ];
  const meetings = items.map((one, a) =>
    items.map((other, b) => (a === b ? undefined : meet(one, other, heldAt, problem.onRelease))),
  );
  const beside = costOf({ beside: 1 }, problem.weights);
  const known = new Map<string, number>();
  const pair: Task['pair'] = (a, option, b, otherOption) => {
    const meeting = meetings[a]?.[b];
    const one = items[a]?.placings[option]?.press;
    const other = items[b]?.placings[otherOption]?.press;
    if (meeting === undefined || one === undefined || other === undefined) return 0;
    if (one.kind === other.kind && one.kind !== 'chord' && other.kind !== 'chord' && !meeting.onHold) {
      if (one.position === other.position) return Infinity;
      return meeting.risky && areNeighbours(one.position, other.position) ? beside : 0;
    }
    const key = a < b ? `${a} ${option} ${b} ${otherOption}` : `${b} ${otherOption} ${a} ${option}`;
    let cost = known.get(key);
    if (cost === undefined) known.set(key, (cost = meetCost(meeting, one, other, beside)));
    return cost;
  };
  const taskOptions = items.map((item, k) =>
    item.placings.map(({ press, counts }): Option => ({
      cost:
        item.standing && !standsWell(problem, problem.standing[k - problem.habits.length], to)
          ? Infinity
          : costOf(counts, problem.weights),
      takes: press?.kind === 'with-hold' || press?.kind === 'pad' ? positions.indexOf(press.position) : undefined,
    })),
  );
  return {
    task: {
      base,
      options: taskOptions,
      cliques: cliquesOf(items, taskOptions),
      partners: meetings.map((row) => row.flatMap((meeting, k) => (meeting === undefined ? [] : [k]))),
      pair,
    },
    options,
  };
}

function itemOf(one: Habit | Standing, placings: readonly Placing[], standing: boolean): Item {
  return {
    spots: new Set(one.spots),
    placings,
    destructive: one.destructive,
    frequent: one.frequent,
    standing,
  };
}

/** Undefined: they never meet, or both stand already, which is the target's own affair. */
function meet(
  one: Item,
  other: Item,
  heldAt: ReadonlyMap<Spot, Held>,
  onRelease: ReadonlySet<Spot>,
): Meeting | undefined {
  if (one.standing && other.standing) return undefined;
  const shared = [...one.spots].filter((spot) => other.spots.has(spot));
  if (shared.length === 0) return undefined;
  const holds = [...new Set(shared.map((spot) => heldAt.get(spot)?.to))];
  return {
    holds,
    onPress: shared.some((spot) => !onRelease.has(spot)),
    risky: (one.destructive && other.frequent) || (other.destructive && one.frequent),
    onHold: [one, other].some(
      ({ standing, placings }) =>
        standing && placings.some(({ press }) => press?.kind === 'with-hold' && holds.includes(press.position)),
    ),
  };
}

function meetCost(
  { holds, onPress, risky }: Meeting,
  one: Habit['press'],
  other: Habit['press'],
  beside: number,
): number {
  if (one.kind === 'pad' || other.kind === 'pad') {
    const [pad, press] = one.kind === 'pad' ? [one, other] : [other, one];
    // What plays the game cannot do something else by itself.
    return press.kind === 'alone' && pad.kind === 'pad' && press.position === pad.position ? Infinity : 0;
  }
  let slips = false;
  for (const hold of holds) {
    const [a, b] = [chordOf(one, hold), chordOf(other, hold)];
    if (sameSet(a, b) || (onPress && (isWithin(a, b) || isWithin(b, a)))) return Infinity;
    const [x, ...moreX] = a.filter((position) => !b.includes(position));
    const [y, ...moreY] = b.filter((position) => !a.includes(position));
    slips ||= risky && x !== undefined && y !== undefined && moreX.length + moreY.length === 0 && areNeighbours(x, y);
  }
  return slips ? beside : 0;
}

/** Whether what the target has of its own can stay with another hold control; with its present one it is not asked. */
function standsWell(problem: RefitProblem, own: Standing | undefined, to: readonly (Position | undefined)[]): boolean {
  if (own?.press.kind !== 'with-hold') return true;
  const { press, spots } = own;
  const onPress = spots.some((spot) => !problem.onRelease.has(spot));
  return problem.holds.every(({ spots: held, now }, k) => {
    const hold = to[k];
    if (hold === now || !held.some((spot) => spots.includes(spot))) return true;
    return whyNot(problem, press, hold, onPress) === undefined;
  });
}

/** Items that all meet each other and take controls in the same way, gathered in order. */
function cliquesOf(items: readonly Item[], options: readonly (readonly Option[])[]): readonly (readonly number[])[] {
  const cliques: { readonly kind: string; readonly members: number[] }[] = [];
  items.forEach(({ placings, standing, spots }, k) => {
    const kind = placings[0]?.press?.kind;
    if (kind !== 'with-hold' && kind !== 'pad') return;
    const joins = cliques.find(
      (clique) =>
        clique.kind === kind &&
        clique.members.every((member) => {
          const other = items[member];
          if (other === undefined || ![...spots].some((spot) => other.spots.has(spot))) return false;
          return !standing || !other.standing || options[k]?.[0]?.takes !== options[member]?.[0]?.takes;
        }),
    );
    if (joins === undefined) cliques.push({ kind, members: [k] });
    else joins.members.push(k);
  });
  return cliques.map(({ members }) => members);
}
