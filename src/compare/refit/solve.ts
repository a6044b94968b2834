import TinyQueue from 'tinyqueue';
import { relax } from './relax.ts';
import type { Part, Relaxed } from './relax.ts';
import type { Task } from './task.ts';

/** One way to begin: a task, made when it is first looked at, of which it is known that it costs at least `bound`. */
export interface Beginning {
  readonly bound: number;
  task(): Task;
}

export interface Solution {
  /** Which beginning. */
  readonly beginning: number;
  /** An option by item. */
  readonly choice: readonly number[];
  readonly cost: number;
  /** Whether no choice that is not listed before it costs less. */
  readonly proved: boolean;
}

export interface Solved {
  /** Best first. */
  readonly solutions: readonly Solution[];
  /** What any choice that is not listed costs at least. */
  readonly bound: number;
  /** Parts looked at. */
  readonly nodes: number;
}

interface Node extends Part {
  readonly beginning: number;
  readonly bound: number;
  readonly depth: number;
  /** Of equals the one made first goes first. */
  readonly turn: number;
  /** Undefined: not looked at yet, so that `bound` is its parent's. */
  readonly relaxed: Relaxed | undefined;
}

/** Parts that are looked at before a search gives up proving: by number, not by time, so that the answer is the same everywhere. */
export const mostNodes = 4000;

/**
 * The `count` cheapest choices of all beginnings, by branch and bound, the most promising part first. A part's bound is
 * its linear assignment (`relax`). Where the relaxed choice minds no pair, it is the part's best; the part is then split
 * into what is left without it (Lawler's method for the k best). Else one of the items that mind each other is given each
 * of its options. When the nodes run out, the best choices met on the way are given, not proved.
 */
export function solve(beginnings: readonly Beginning[], count: number, most = mostNodes): Solved {
  const queue = new TinyQueue<Node>([], before);
  const tasks: (Task | undefined)[] = beginnings.map(() => undefined);
  const taskOf = (k: number): Task => (tasks[k] ??= beginnings[k]?.task() ?? emptyTask);
  const found: Solution[] = [];
  const met = new Met(count);
  let turn = 0;
  const push = (node: Omit<Node, 'turn'>): void => {
    queue.push({ ...node, turn: turn++ });
  };
  beginnings.forEach(({ bound }, beginning) => {
    push({ beginning, bound, depth: 0, fixed: [], banned: new Map(), relaxed: undefined });
  });
  let nodes = 0;
  while (found.length < count) {
    const node = queue.pop();
    if (node === undefined) break;
    const task = taskOf(node.beginning);
    if (node.relaxed === undefined) {
      if (nodes >= most) {
        queue.push(node);
        break;
      }
      nodes += 1;
      const whole = node.fixed.length === 0 ? { ...node, fixed: task.options.map(() => -1) } : node;
      const relaxed = relax(task, whole);
      if (relaxed.bound === Infinity) continue;
      met.add(node.beginning, task, relaxed.choice);
      push({ ...whole, bound: Math.max(relaxed.bound, node.bound), relaxed });
      continue;
    }
    const minding = mindingItem(task, node, node.relaxed.choice);
    if (minding === undefined) {
      found.push({ beginning: node.beginning, choice: node.relaxed.choice, cost: node.bound, proved: true });
      for (const part of without(node, node.relaxed.choice)) push(part);
    } else for (const part of branches(task, node, minding)) push(part);
  }
  const bound = queue.peek()?.bound ?? Infinity;
  const others = met.all.filter((one) => !found.some((other) => same(one, other)));
  const more = others.slice(0, count - found.length).map((one) => ({ ...one, proved: one.cost <= bound }));
  return { solutions: [...found, ...more], bound, nodes };
}

const emptyTask: Task = { base: 0, options: [], cliques: [], partners: [], pair: () => 0 };

/** Cheapest first; of equal ones the one that has been decided furthest, then the one made first. */
function before(a: Node, b: Node): number {
  return a.bound - b.bound || b.depth - a.depth || a.turn - b.turn;
}

/**
 * The open item that minds most other open ones in a choice; the first of equals; undefined: none, so that the bound is
 * what the choice costs.
 */
function mindingItem(task: Task, { fixed }: Part, choice: readonly number[]): number | undefined {
  let worst: number | undefined;
  let most = 0;
  choice.forEach((option, item) => {
    if ((fixed[item] ?? -1) >= 0) return;
    const minded = (task.partners[item] ?? []).filter(
      (other) => (fixed[other] ?? -1) < 0 && task.pair(item, option, other, choice[other] ?? -1) > 0,
    ).length;
    if (minded > most) [worst, most] = [item, minded];
  });
  return worst;
}

function* branches(task: Task, node: Node, item: number): Generator<Omit<Node, 'turn'>> {
  for (const option of (task.options[item] ?? []).keys()) {
    if (node.banned.get(item)?.has(option) === true) continue;
    yield child(node, node.fixed.with(item, option), node.banned);
  }
}

/** The part without one choice: for each open item those that agree before it and differ in it. */
function* without(node: Node, choice: readonly number[]): Generator<Omit<Node, 'turn'>> {
  let fixed = node.fixed;
  for (const [item, option] of choice.entries()) {
    if ((node.fixed[item] ?? -1) >= 0) continue;
    const banned = new Map(node.banned);
    banned.set(item, new Set([...(node.banned.get(item) ?? []), option]));
    yield child(node, fixed, banned);
    fixed = fixed.with(item, option);
  }
}

function child(node: Node, fixed: Part['fixed'], banned: Part['banned']): Omit<Node, 'turn'> {
  return {
    beginning: node.beginning,
    bound: node.bound,
    depth: fixed.filter((option) => option >= 0).length,
    fixed,
    banned,
    relaxed: undefined,
  };
}

function same(a: Pick<Solution, 'beginning' | 'choice'>, b: Pick<Solution, 'beginning' | 'choice'>): boolean {
  return a.beginning === b.beginning && a.choice.every((option, item) => option === b.choice[item]);
}

/** The cheapest choices met so far that can be had. */
class Met {
  readonly all: Omit<Solution, 'proved'>[] = [];
  readonly #most: number;

  constructor(count: number) {
    // Those that are proved in the end are among them.
    this.#most = count * 2;
  }

  add(beginning: number, task: Task, relaxed: readonly number[]): void {
    const choice = mended(task, relaxed);
    const cost = choice === undefined ? Infinity : costOfChoice(task, choice);
    if (choice === undefined || cost === Infinity) return;
    const one = { beginning, choice, cost };
    if (this.all.some((other) => same(one, other))) return;
    const at = this.all.findIndex((other) => other.cost > cost);
    this.all.splice(at < 0 ? this.all.length : at, 0, one);
    this.all.length = Math.min(this.all.length, this.#most);
  }
}

/** A relaxed choice with each item that cannot go with those before it given its cheapest option that can. */
function mended(task: Task, relaxed: readonly number[]): readonly number[] | undefined {
  const choice: number[] = [];
  for (const [item, wanted] of relaxed.entries()) {
    const partners = (task.partners[item] ?? []).filter((other) => other < item);
    const extra = (option: number): number =>
      partners.reduce((sum, other) => sum + task.pair(item, option, other, choice[other] ?? -1), 0);
    if (extra(wanted) < Infinity) {
      choice.push(wanted);
      continue;
    }
    const costs = (task.options[item] ?? []).map(({ cost }, option) => cost + extra(option));
    const best = costs.reduce((low, cost, k) => (cost < (costs[low] ?? Infinity) ? k : low), 0);
    if ((costs[best] ?? Infinity) === Infinity) return undefined;
    choice.push(best);
  }
  return choice;
}

function costOfChoice(task: Task, choice: readonly number[]): number {
  let cost = task.base;
  choice.forEach((option, item) => {
    cost += task.options[item]?.[option]?.cost ?? Infinity;
    for (const other of task.partners[item] ?? [])
      if (other < item) cost += task.pair(item, option, other, choice[other] ?? -1);
  });
  return cost;
}
