import type { Habit, HandsOn, RefitProblem } from '../../../src/compare/refit/problem.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { standardWeights } from './any-problem.ts';

/** Numbers from a seed, alike everywhere: the generator of Park and Miller, Communications of the ACM 31 (1988). */
export function numbersFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

/**
 * Hotkeys of one device with many controls for another one with as many that lacks some of them and wears its labels in
 * another order; half of them lack the hold control too. `risky`: how many of the hotkeys lose something, and how many are pressed often, past what the
 * vocabulary has: each pair of them is one that a linear assignment does not see.
 */
export function bigProblem(seed: number, actions: number, controls: number, risky: number): RefitProblem {
  const next = numbersFrom(seed);
  const shuffled = <T>(all: readonly T[]): readonly T[] => {
    const left = [...all];
    return all.flatMap(() => left.splice(next(left.length), 1));
  };
  // Of 42 in all, so that each device has some that the other lacks.
  const usable = positions.filter((position) => !/^(power|lid|mode)$/.test(position));
  const device = (body: HandsOn['body'], first: readonly Position[]): HandsOn => {
    const own = [...first, ...shuffled(usable)].slice(0, controls);
    return { body, hands: {}, controls: new Map(own.map((position) => [position, String(next(controls))])) };
  };
  const [from, to] = [device('wide', ['mode']), device('folding', seed % 2 === 0 ? ['mode'] : [])];
  const places = shuffled([...from.controls.keys()].filter((position) => position !== 'mode'));
  const names = settings.filter(({ type }) => type.kind === 'bind').map(({ id }) => id.replace('hotkeys.bind.', ''));
  return {
    from,
    to,
    holds: [{ id: 'hold', from: 'mode', now: undefined, pinned: false, spots: [0] }],
    habits: Array.from({ length: actions }, (_, k): Habit => {
      const position = places[k % places.length] ?? 'south';
      return {
        id: names[k] ?? `action-${k}`,
        action: names[k] ?? `action-${k}`,
        press: { kind: 'with-hold', position },
        spots: [0],
        wishes: [position],
        pinned: false,
        destructive: k < risky,
        frequent: k >= risky && k < risky * 2,
        worth: 1,
        cannot: () => undefined,
      };
    }),
    standing: [],
    reserved: [['mode', 'start']],
    onRelease: new Set(),
    weights: standardWeights,
  };
}
