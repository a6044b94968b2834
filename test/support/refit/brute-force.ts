import type { Habit, HandsOn, RefitProblem } from '../../../src/compare/refit/problem.ts';

/**
 * The costs of the cheapest ways to carry habits over, every way tried: the definitions of the README and of
 * `thumbwright help refit`, written anew here. Nothing of the code under test is used but the shape of a problem.
 */
export function bruteForce(problem: RefitProblem, count: number): readonly number[] {
  const best: number[] = [];
  const keep = (cost: number): void => {
    best.push(cost);
    best.sort((a, b) => a - b);
    best.length = Math.min(best.length, count);
  };
  const worst = (): number => (best.length < count ? Infinity : (best[count - 1] ?? Infinity));
  const weight = (term: keyof RefitProblem['weights']): number => Math.round(problem.weights[term] * 1000);
  const there = [...problem.to.controls.keys()];

  const chooseHolds = (k: number, holds: readonly (string | undefined)[], cost: number): void => {
    const hold = problem.holds[k];
    if (hold === undefined) {
      chooseHabits(0, holds, [], cost);
      return;
    }
    for (const to of holdsFor(problem, k)) {
      const own =
        hold.from === undefined || to === undefined
          ? 0
          : (hold.from === to ? 0 : weight('moved')) + fit(problem, hold.from, to, weight);
      chooseHolds(k + 1, [...holds, to], cost + own);
    }
  };

  const holdAt = (holds: readonly (string | undefined)[], spot: number): string | undefined =>
    holds[problem.holds.findIndex(({ spots }) => spots.includes(spot))];

  const chooseHabits = (
    k: number,
    holds: readonly (string | undefined)[],
    before: readonly (readonly string[] | undefined)[],
    cost: number,
  ): void => {
    if (cost > worst()) return;
    const habit = problem.habits[k];
    if (habit === undefined) {
      if (standingFits(problem, holds)) keep(cost);
      return;
    }
    for (const taken of waysFor(problem, habit)) {
      let own = taken === undefined ? habit.worth * weight('dropped') : placeCost(problem, habit, taken, holds, weight);
      if (taken !== undefined) {
        if (
          !allowed(
            problem,
            habit,
            taken,
            habit.spots.map((spot) => holdAt(holds, spot)),
          )
        )
          continue;
        const others: (readonly [Pick<Habit, 'press' | 'spots' | 'destructive' | 'frequent'>, readonly string[]])[] = [
          ...before.flatMap((one, j) => {
            const other = problem.habits[j];
            return one === undefined || other === undefined ? [] : [[other, one] as const];
          }),
          ...problem.standing.map(
            (one) => [one, one.press.kind === 'chord' ? one.press.positions : [one.press.position]] as const,
          ),
        ];
        for (const [other, theirs] of others) {
          const shared = habit.spots.filter((spot) => other.spots.includes(spot));
          if (shared.length > 0)
            own += together(habit, taken, other, theirs, shared, (spot) => holdAt(holds, spot), problem, weight);
        }
      }
      if (own < Infinity) chooseHabits(k + 1, holds, [...before, taken], cost + own);
    }
  };

  chooseHolds(0, [], 0);
  return best;

  function waysFor(_: RefitProblem, habit: Habit): readonly (readonly string[] | undefined)[] {
    if (habit.press.kind !== 'chord') return [undefined, ...there.map((is) => [is])];
    const sets: string[][] = [];
    const size = habit.press.positions.length;
    for (let bits = 0; bits < 2 ** there.length; bits++) {
      const set = there.filter((_one, k) => ((bits >> k) & 1) === 1);
      if (set.length === size) sets.push(set);
    }
    return [undefined, ...sets];
  }
}

type Weight = (term: keyof RefitProblem['weights']) => number;

function holdsFor({ holds, to }: RefitProblem, k: number): readonly (string | undefined)[] {
  const hold = holds[k];
  if (hold?.from === undefined) return [hold?.now];
  if (hold.pinned && to.controls.has(hold.from)) return [hold.from];
  const able = [...to.controls.keys()].filter(
    (position) =>
      ['menu', 'shoulder', 'trigger', 'click', 'extra'].includes(sort(position)) ||
      position === hold.from ||
      position === hold.now,
  );
  return able.length === 0 ? [hold.now] : able;
}

function sort(position: string): string {
  switch (position.split('-')[0]) {
    case 'south':
    case 'east':
    case 'west':
    case 'north':
      return 'face';
    case 'dpad':
      return 'cross';
    case 'shoulder':
      return 'shoulder';
    case 'trigger':
      return 'trigger';
    case 'select':
    case 'start':
    case 'mode':
      return 'menu';
    case 'thumb':
      return 'click';
    case 'stick':
      return 'stick';
    case 'extra':
      return 'extra';
    default:
      return 'side';
  }
}

function fingers({ body, hands }: HandsOn, position: string): readonly string[] {
  const own = hands[position];
  if (own !== undefined) return [own];
  const wide = body === 'wide';
  switch (sort(position)) {
    case 'face':
      return ['right-thumb'];
    case 'cross':
      return ['left-thumb'];
    case 'click':
      return [position === 'thumb-left' ? 'left-thumb' : 'right-thumb'];
    case 'shoulder':
      return [position === 'shoulder-left' ? 'left-index' : 'right-index'];
    case 'trigger': {
      const side = position === 'trigger-left' ? 'left' : 'right';
      return body === 'folding' ? [`${side}-index`] : [`${side}-index`, `${side}-middle`];
    }
    case 'menu':
      if (wide && position === 'select') return ['left-thumb', 'left-index'];
      if (wide && position === 'start') return ['right-thumb', 'right-index'];
      return ['left-thumb', 'right-thumb'];
    default:
      return [];
  }
}

function fit({ from, to }: RefitProblem, was: string, is: string, weight: Weight): number {
  const label = (device: HandsOn, at: string): string | undefined =>
    [...device.controls].find(([position]) => position === at)?.[1];
  const [a, b] = [fingers(from, was), fingers(to, is)];
  const hand = (all: readonly string[]): readonly string[] => all.map((one) => one.split('-')[0] ?? '');
  const common = (x: readonly string[], y: readonly string[]): boolean =>
    x.length === 0 && y.length === 0 ? true : x.some((one) => y.includes(one));
  const labels = [label(from, was), label(to, is)];
  const sameLabel = labels[0] === undefined && labels[1] === undefined ? was === is : labels[0] === labels[1];
  return (
    (was === is ? 0 : weight('position')) +
    (sameLabel ? 0 : weight('label')) +
    (common(hand(a), hand(b)) ? 0 : weight('hand')) +
    (common(a, b) ? 0 : weight('finger')) +
    (sort(was) === sort(is) ? 0 : weight('kind'))
  );
}

function placeCost(
  problem: RefitProblem,
  habit: Habit,
  taken: readonly string[],
  holds: readonly (string | undefined)[],
  weight: Weight,
): number {
  const { press } = habit;
  const was = press.kind === 'chord' ? press.positions : [press.position];
  const otherSet = was.some((position) => !taken.includes(position));
  const holdMoved =
    press.kind === 'with-hold' &&
    problem.holds.some(
      ({ from, spots }, k) =>
        from !== undefined && holds[k] !== from && spots.some((spot) => habit.spots.includes(spot)),
    );
  const unwished =
    press.kind !== 'chord' &&
    otherSet &&
    habit.wishes.length > 1 &&
    !habit.wishes.some((position) => taken.includes(position));
  // Of the ways to give each control of a chord another, the cheapest.
  const fits = permutations(taken).map((order) =>
    was.reduce((sum, position, k) => sum + fit(problem, position, order[k] ?? '', weight), 0),
  );
  return (otherSet || holdMoved ? weight('moved') : 0) + (unwished ? weight('unwished') : 0) + Math.min(...fits);
}

function permutations(all: readonly string[]): readonly (readonly string[])[] {
  if (all.length < 2) return [all];
  return all.flatMap((first, k) => permutations(all.filter((_, j) => j !== k)).map((rest) => [first, ...rest]));
}

/** Never: the hold control itself, a finger for two, a chord of the system, what cannot be said, what may not be moved. */
function allowed(
  problem: RefitProblem,
  habit: Habit,
  taken: readonly string[],
  holds: readonly (string | undefined)[],
): boolean {
  const { press, pinned } = habit;
  const was: readonly string[] = press.kind === 'chord' ? press.positions : [press.position];
  const same = was.every((position) => taken.includes(position));
  const known = [...problem.to.controls.keys()];
  if (taken.some((position) => known.some((one) => one === position && habit.cannot(one) !== undefined))) return false;
  if (pinned && !same) return false;
  for (const position of taken) {
    const kept = was.includes(position);
    if (kept) continue;
    if (press.kind === 'alone' && !['click', 'extra'].includes(sort(position)) && position !== 'mode') return false;
    if (press.kind === 'pad' && sort(position) !== 'extra') {
      const freed = problem.habits.some(
        (other) =>
          other.press.kind === 'pad' &&
          other.press.position === position &&
          habit.spots.every((spot) => other.spots.includes(spot)),
      );
      if (!freed) return false;
    } else if (['stick', 'side'].includes(sort(position))) return false;
  }
  if (press.kind === 'pad') return true;
  return holds.every((hold) => pressable(problem, press.kind, taken, habit.spots, hold));
}

/** With this hold control: not on it, a finger for each control, and no chord of the system nor on the way to one. */
function pressable(
  problem: RefitProblem,
  kind: Habit['press']['kind'],
  taken: readonly string[],
  spots: readonly number[],
  hold: string | undefined,
): boolean {
  if (kind !== 'chord' && taken[0] === hold) return false;
  const chord = kind === 'with-hold' && hold !== undefined ? [hold, ...taken] : taken;
  if (!everyFinger(chord.map((position) => fingers(problem.to, position)).filter((all) => all.length > 0)))
    return false;
  return problem.reserved.every((reserved) => {
    if (reserved.every((position) => chord.includes(position))) return false;
    const early = spots.some((spot) => !problem.onRelease.has(spot));
    return !(early && chord.every((position) => (reserved as readonly string[]).includes(position)));
  });
}

function everyFinger(wanted: readonly (readonly string[])[]): boolean {
  const [first, ...rest] = wanted;
  if (first === undefined) return true;
  return first.some((finger) => everyFinger(rest.map((all) => all.filter((one) => one !== finger))));
}

const ring = [
  ['south', 'east', 'north', 'west'],
  ['dpad-up', 'dpad-right', 'dpad-down', 'dpad-left'],
];

function beside(a: string, b: string): boolean {
  if (a !== b && sort(a) === sort(b) && ['shoulder', 'trigger'].includes(sort(a))) return true;
  return ring.some(
    (four) => four.includes(a) && four.includes(b) && Math.abs(four.indexOf(a) - four.indexOf(b)) % 2 === 1,
  );
}

function together(
  one: Habit,
  mine: readonly string[],
  other: Pick<Habit, 'press' | 'spots' | 'destructive' | 'frequent'>,
  theirs: readonly string[],
  shared: readonly number[],
  hold: (spot: number) => string | undefined,
  problem: RefitProblem,
  weight: Weight,
): number {
  const kinds = [one.press.kind, other.press.kind];
  if (kinds.includes('pad')) {
    if (kinds.every((kind) => kind === 'pad' || kind === 'alone')) return mine[0] === theirs[0] ? Infinity : 0;
    return 0;
  }
  let slips = false;
  // A shorter chord acts first where any of the frontends acts on pressing.
  const early = shared.some((spot) => !problem.onRelease.has(spot));
  for (const spot of shared) {
    const held = hold(spot);
    const full = (kind: string, taken: readonly string[]): ReadonlySet<string> =>
      new Set(kind === 'with-hold' && held !== undefined ? [held, ...taken] : taken);
    const [a, b] = [full(one.press.kind, mine), full(other.press.kind, theirs)];
    const inside = (x: ReadonlySet<string>, y: ReadonlySet<string>): boolean => [...x].every((p) => y.has(p));
    if (inside(a, b) && inside(b, a)) return Infinity;
    if (early && (inside(a, b) || inside(b, a))) return Infinity;
    const [x, ...restX] = [...a].filter((p) => !b.has(p));
    const [y, ...restY] = [...b].filter((p) => !a.has(p));
    if (x !== undefined && y !== undefined && restX.length === 0 && restY.length === 0 && beside(x, y)) slips = true;
  }
  const risky = (one.destructive && other.frequent) || (other.destructive && one.frequent);
  return slips && risky ? weight('beside') : 0;
}

/** What the target has of its own must be sayable still when its hold control is another one. */
function standingFits(problem: RefitProblem, holds: readonly (string | undefined)[]): boolean {
  return problem.standing.every(({ press, spots }) => {
    if (press.kind !== 'with-hold') return true;
    return problem.holds.every((hold, k) => {
      const to = holds[k];
      if (to === hold.now || !hold.spots.some((spot) => spots.includes(spot))) return true;
      return pressable(problem, press.kind, [press.position], spots, to);
    });
  });
}
