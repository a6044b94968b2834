import { pressedControls } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Branch } from './branch.ts';
import { sameSet } from './placing.ts';
import type { RefitProblem } from './problem.ts';
import type { Task } from './task.ts';

/** What would make room for a hotkey that has no place. */
export interface Freeing {
  /** Ids of hotkeys to give up; several where one has the control on some frontends and another on others. */
  readonly giveUp: readonly string[];
  readonly positions: readonly Position[];
}

/** Each way to make room that gives up fewest, the least useful hotkeys first; none: nothing that is given up would. */
export function freeing(
  problem: RefitProblem,
  { task, options }: Branch,
  choice: readonly number[],
  dropped: number,
): readonly Freeing[] {
  const { habits } = problem;
  const names = namesOf(problem);
  const found = (options[dropped]?.placings ?? []).flatMap(({ press }, option) => {
    if (press === undefined) return [];
    const inTheWay = hinderersOf(task, choice, dropped, option);
    const worth = inTheWay.reduce((sum, other) => sum + (habits[other]?.worth ?? 1), 0);
    const cost = task.options[dropped]?.[option]?.cost ?? Infinity;
    const positions = pressedControls(press);
    return [{ giveUp: inTheWay.map((other) => names[other] ?? ''), positions, worth, cost }];
  });
  const fewest = Math.min(...found.map(({ giveUp }) => giveUp.length));
  return found
    .filter(({ giveUp }) => giveUp.length === fewest)
    .sort((a, b) => a.worth - b.worth || a.cost - b.cost)
    .map(({ giveUp, positions }) => ({ giveUp, positions }));
}

/** Ids of what stands in the way of a habit where hands know it; none where it may not be there at all. */
export function inTheWayAtHome(
  problem: RefitProblem,
  { task, options }: Branch,
  choice: readonly number[],
  item: number,
): readonly string[] {
  const names = namesOf(problem);
  const home = (options[item]?.placings ?? []).findIndex(({ press }) => {
    const was = problem.habits[item]?.press;
    if (press === undefined || was === undefined) return false;
    return press.kind === 'chord' && was.kind === 'chord'
      ? sameSet(press.positions, was.positions)
      : press.kind !== 'chord' && was.kind !== 'chord' && press.position === was.position;
  });
  return home < 0 ? [] : hinderersOf(task, choice, item, home).map((other) => names[other] ?? '');
}

function namesOf({ habits, standing }: RefitProblem): readonly string[] {
  return [...habits.map(({ id }) => id), ...standing.map(({ action }) => `its own ${action}`)];
}

/** The items that cannot be had together with one option of an item. */
function hinderersOf(task: Task, choice: readonly number[], item: number, option: number): readonly number[] {
  return (task.partners[item] ?? []).filter(
    (other) => task.pair(item, option, other, choice[other] ?? -1) === Infinity,
  );
}
