import type { Press } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Counts } from './fit.ts';
import type { Habit } from './problem.ts';

/** One way to treat a habit on the target. */
export interface Placing {
  /** Undefined: dropped. */
  readonly press: Habit['press'] | undefined;
  readonly counts: Counts;
}

/** Why a habit may not have a control, in words that follow 'not'. */
export interface Blocked {
  readonly positions: readonly Position[];
  readonly why: string;
}

/** All that is pressed, the hold control included; each once. */
export function chordOf(press: Press, hold: Position | undefined): readonly Position[] {
  switch (press.kind) {
    case 'chord':
      return press.positions;
    case 'alone':
      return [press.position];
    case 'with-hold':
      return hold === undefined || hold === press.position ? [press.position] : [hold, press.position];
  }
}

export function sameSet(a: readonly Position[], b: readonly Position[]): boolean {
  return a.length === b.length && isWithin(a, b);
}

export function isWithin(a: readonly Position[], b: readonly Position[]): boolean {
  return a.every((position) => b.includes(position));
}
