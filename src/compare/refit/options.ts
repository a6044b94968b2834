import { pressedControls } from '../../model/value.ts';
import { canPressTogether } from '../../controls/chords/fingers.ts';
import type { Press } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { addCounts, costOf, fitOf } from './fit.ts';
import type { Counts } from './fit.ts';
import { mayTake, mayTakeAlone } from './kinds.ts';
import { chordOf, isWithin, sameSet } from './placing.ts';
import type { Blocked, Placing } from './placing.ts';
import type { Habit, RefitProblem } from './problem.ts';

/** The hold control of a spot: where hands know it, and where it is to be. */
export interface Held {
  readonly from: Position | undefined;
  readonly to: Position | undefined;
}

export interface Options {
  /** The last one drops it. */
  readonly placings: readonly Placing[];
  readonly blocked: readonly Blocked[];
}

/** More controls than this in one chord are kept as they are or dropped: the ways to move them are too many. */
export const mostInChord = 3;

/** Every way in which a habit may be pressed on the target with these hold controls. */
export function optionsFor(problem: RefitProblem, habit: Habit, holds: readonly Held[]): Options {
  const placings: Placing[] = [];
  const blocked: Blocked[] = [];
  const onPress = habit.spots.some((spot) => !problem.onRelease.has(spot));
  for (const { press, counts } of waysOf(problem, habit, holds)) {
    const positions = pressedControls(press);
    const cannot = positions.flatMap((position) => habit.cannot(position) ?? [])[0];
    const why =
      cannot ??
      (press.kind === 'pad'
        ? undefined
        : holds.map(({ to }) => whyNot(problem, press, to, onPress)).find((reason) => reason !== undefined));
    if (why === undefined) placings.push({ press, counts });
    else blocked.push({ positions, why });
  }
  placings.push({ press: undefined, counts: { dropped: habit.worth } });
  return { placings, blocked };
}

/** What never may be: why a press is none with this hold control; undefined: it is. */
export function whyNot(
  { to, reserved }: RefitProblem,
  press: Press,
  hold: Position | undefined,
  onPress: boolean,
): string | undefined {
  const chord = chordOf(press, hold);
  if (press.kind !== 'chord' && press.position === hold) return 'it is the hold control';
  if (!canPressTogether(chord, to.body, to.hands))
    return press.kind === 'with-hold' ? "it is under the hold control's finger" : 'one finger would have to press two';
  // The operating system acts at once, on its own chord and on the way to a longer one.
  if (reserved.some((taken) => isWithin(taken, chord))) return 'the operating system takes the chord';
  if (onPress && reserved.some((taken) => isWithin(chord, taken)))
    return 'it would act on the way to a chord of the operating system';
  return undefined;
}

function waysOf(
  problem: RefitProblem,
  habit: Habit,
  holds: readonly Held[],
): readonly { readonly press: Habit['press']; readonly counts: Counts }[] {
  const { from, to } = problem;
  const { press, pinned } = habit;
  if (press.kind === 'chord') return chordWays(problem, press.positions, pinned);
  const was = press.position;
  const mayMove =
    press.kind === 'with-hold'
      ? mayTake
      : press.kind === 'alone'
        ? mayTakeAlone
        : (is: Position) => playsNothing(problem, habit, is);
  const holdMoves =
    press.kind === 'with-hold' && holds.some((hold) => hold.from !== undefined && hold.from !== hold.to);
  return [...to.controls.keys()].flatMap((is) => {
    if (is !== was && (pinned || !mayMove(is))) return [];
    const counts = addCounts([
      ...(is !== was || holdMoves ? [{ moved: 1 }] : []),
      ...(is !== was && habit.wishes.length > 1 && !habit.wishes.includes(is) ? [{ unwished: 1 }] : []),
      fitOf(from, was, to, is),
    ]);
    return [{ press: { ...press, position: is }, counts }];
  });
}

/** Whether no input of the game's pad stays on a control by itself: it has none, or the habits put it elsewhere. */
function playsNothing({ habits }: RefitProblem, habit: Habit, position: Position): boolean {
  return (
    /^extra-/.test(position) ||
    habits.some(
      ({ press, spots }) =>
        press.kind === 'pad' && press.position === position && habit.spots.every((spot) => spots.includes(spot)),
    )
  );
}

/** Each control of a chord given one of the target; of the orders of one set the cheapest. */
function chordWays(
  { from, to, weights }: RefitProblem,
  was: readonly Position[],
  pinned: boolean,
): readonly { readonly press: Habit['press']; readonly counts: Counts }[] {
  const known = [...to.controls.keys()].filter((is) => mayTake(is) || was.includes(is));
  const stays = pinned || was.length > mostInChord;
  const best = new Map<
    string,
    { readonly positions: readonly Position[]; readonly counts: Counts; readonly cost: number }
  >();
  const grow = (positions: readonly Position[]): void => {
    const next = was[positions.length];
    if (next !== undefined) {
      for (const is of known) if (!positions.includes(is) && (!stays || is === next)) grow([...positions, is]);
      return;
    }
    const fits = was.map((one, k) => fitOf(from, one, to, positions[k] ?? one));
    const counts = addCounts([...(sameSet(was, positions) ? [] : [{ moved: 1 }]), ...fits]);
    const key = [...positions].sort().join(' ');
    const cost = costOf(counts, weights);
    if (cost < (best.get(key)?.cost ?? Infinity)) best.set(key, { positions, counts, cost });
  };
  grow([]);
  return [...best.values()].map(({ positions, counts }) => ({ press: { kind: 'chord', positions }, counts }));
}
