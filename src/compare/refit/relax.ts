import { munkres } from 'munkres';
import type { Task } from './task.ts';

/** A part of the choices: what is fixed (an option by item, -1: open), and what is forbidden. */
export interface Part {
  readonly fixed: readonly number[];
  /** Forbidden options by item. */
  readonly banned: ReadonlyMap<number, ReadonlySet<number>>;
}

export interface Relaxed {
  /** No choice of the part costs less; Infinity: it has none. */
  readonly bound: number;
  /** The best choice if open items did not mind each other, but within their cliques. */
  readonly choice: readonly number[];
}

/**
 * The lower bound of a part: what is fixed costs what it costs, and adds to the options of each open item; open items
 * of a clique are assigned at the least sum (a linear assignment, exactly), others take their cheapest option.
 */
export function relax(task: Task, { fixed, banned }: Part): Relaxed {
  let bound = task.base;
  const choice = [...fixed];
  fixed.forEach((option, item) => {
    if (option < 0) return;
    bound += task.options[item]?.[option]?.cost ?? Infinity;
    for (const other of task.partners[item] ?? []) {
      const theirs = fixed[other] ?? -1;
      if (other < item && theirs >= 0) bound += task.pair(item, option, other, theirs);
    }
  });
  const costs = fixed.map((option, item) => (option < 0 ? openCosts(task, fixed, banned, item) : []));
  const inClique = new Set<number>();
  for (const clique of task.cliques) {
    const open = clique.filter((item) => (fixed[item] ?? -1) < 0);
    for (const item of open) inClique.add(item);
    bound += assign(task, open, costs, choice);
  }
  fixed.forEach((option, item) => {
    if (option >= 0 || inClique.has(item)) return;
    const own = costs[item] ?? [];
    const best = cheapest(own);
    choice[item] = best;
    bound += own[best] ?? Infinity;
  });
  return { bound, choice };
}

/** Each option of an open item with what it costs together with all that is fixed. */
function openCosts(task: Task, fixed: readonly number[], banned: Part['banned'], item: number): readonly number[] {
  const not = banned.get(item);
  const beside = (task.partners[item] ?? []).filter((other) => (fixed[other] ?? -1) >= 0);
  return (task.options[item] ?? []).map(({ cost }, option) => {
    if (not?.has(option) === true) return Infinity;
    return beside.reduce((sum, other) => sum + task.pair(item, option, other, fixed[other] ?? -1), cost);
  });
}

/** Gives the open items of one clique their options; what that costs. */
function assign(task: Task, open: readonly number[], costs: readonly (readonly number[])[], choice: number[]): number {
  if (open.length === 0) return 0;
  const things = new Map<number, number>();
  for (const item of open)
    for (const { takes } of task.options[item] ?? [])
      if (takes !== undefined && !things.has(takes)) things.set(takes, things.size);
  // Behind the things, a column for each item alone: its cheapest option that takes nothing.
  const options: number[][] = open.map(() => []);
  const matrix = open.map((item, row) => {
    const line = new Array<number>(things.size + open.length).fill(Infinity);
    (costs[item] ?? []).forEach((cost, option) => {
      const takes = task.options[item]?.[option]?.takes;
      const column = takes === undefined ? things.size + row : (things.get(takes) ?? -1);
      if (cost >= (line[column] ?? Infinity)) return;
      line[column] = cost;
      const own = options[row];
      if (own !== undefined) own[column] = option;
    });
    return line;
  });
  let sum = 0;
  for (const [row, column] of munkres(matrix)) {
    const item = open[row];
    const option = options[row]?.[column];
    if (item === undefined || option === undefined) return Infinity;
    choice[item] = option;
    sum += matrix[row]?.[column] ?? Infinity;
  }
  return sum;
}

function cheapest(costs: readonly number[]): number {
  return costs.reduce((best, cost, k) => (cost < (costs[best] ?? Infinity) ? k : best), 0);
}
