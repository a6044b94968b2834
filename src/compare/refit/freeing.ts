import type { Position } from '../../vocabulary/positions.ts';
import type { Branch } from './branch.ts';
import type { RefitProblem } from './problem.ts';

/** What would make room for a hotkey that has no place. */
export interface Freeing {
  /** Ids of hotkeys to give up; several where one has the control on some frontends and another on others. */
  readonly giveUp: readonly string[];
  readonly positions: readonly Position[];
}

/** Each way to make room that gives up fewest, the least useful hotkeys first; none: nothing that is given up would. */
export function freeing(
  { habits, standing }: RefitProblem,
  { task, options }: Branch,
  choice: readonly number[],
  dropped: number,
): readonly Freeing[] {
  const names = [...habits.map(({ id }) => id), ...standing.map(({ action }) => action)];
  const found = (options[dropped]?.placings ?? []).flatMap(({ press }, option) => {
    if (press === undefined) return [];
    const inTheWay = (task.partners[dropped] ?? []).filter(
      (other) => task.pair(dropped, option, other, choice[other] ?? -1) === Infinity,
    );
    const worth = inTheWay.reduce((sum, other) => sum + (habits[other]?.worth ?? 1), 0);
    const cost = task.options[dropped]?.[option]?.cost ?? Infinity;
    const positions = press.kind === 'chord' ? press.positions : [press.position];
    return [{ giveUp: inTheWay.map((other) => names[other] ?? ''), positions, worth, cost }];
  });
  const fewest = Math.min(...found.map(({ giveUp }) => giveUp.length));
  return found
    .filter(({ giveUp }) => giveUp.length === fewest)
    .sort((a, b) => a.worth - b.worth || a.cost - b.cost)
    .map(({ giveUp, positions }) => ({ giveUp, positions }));
}
