import type { Position } from '../../vocabulary/positions.ts';
import { canPressTogether } from './fingers.ts';
import type { Body } from './fingers.ts';
import { areNeighbours } from './neighbours.ts';

/** One thing that some program does when controls are pressed together. */
export interface BoundPress {
  /** The frontend instance; undefined for a chord that the operating system takes. */
  readonly instance: string | undefined;
  readonly action: string;
  /** All that is pressed, the hold control included. */
  readonly positions: readonly Position[];
  /** The hold control, when it is one of them. */
  readonly hold: Position | undefined;
  /** Whether it acts when the last control goes down, or when one comes up. */
  readonly fires: 'press' | 'release';
  readonly destructive: boolean;
  readonly frequent: boolean;
}

/** What is wrong, between presses given by their indices. */
export type ChordConflict =
  /** One chord, two actions of one instance. `a` comes first. */
  | { readonly kind: 'two-actions'; readonly a: number; readonly b: number }
  /** The same action on different chords on two instances. */
  | { readonly kind: 'differs'; readonly a: number; readonly b: number }
  /** A chord that the operating system takes as well. */
  | { readonly kind: 'reserved'; readonly press: number; readonly reserved: number }
  /** One chord inside another: on the way to the longer one the shorter one acts. */
  | { readonly kind: 'inside'; readonly shorter: number; readonly longer: number }
  /** Two controls of the chord are under the same finger. */
  | { readonly kind: 'same-finger'; readonly press: number }
  /** What loses something lies beside what is pressed often: the finger slips from one control to the other. */
  | {
      readonly kind: 'beside';
      readonly destructive: number;
      readonly frequent: number;
      readonly slips: readonly [Position, Position];
    }
  /** What loses something needs no hold control. */
  | { readonly kind: 'unguarded'; readonly press: number };

/**
 * All conflicts between the chords of a device: those of every instance, and those that the operating system takes.
 * Programs do not run at the same time, so that two instances may use one chord for different things; the operating
 * system always listens.
 */
export function findConflicts(
  presses: readonly BoundPress[],
  body: Body | undefined,
  hands: Readonly<Record<string, string>>,
): readonly ChordConflict[] {
  const found: ChordConflict[] = [];
  presses.forEach((press, k) => {
    if (press.instance === undefined) return;
    if (press.positions.length > 1 && !canPressTogether(press.positions, body, hands))
      found.push({ kind: 'same-finger', press: k });
    if (press.destructive && press.positions.length === 1) found.push({ kind: 'unguarded', press: k });
  });
  for (let a = 0; a < presses.length; a++) {
    for (let b = a + 1; b < presses.length; b++) {
      const one = presses[a];
      const other = presses[b];
      if (one !== undefined && other !== undefined) found.push(...between(one, a, other, b));
    }
  }
  return found;
}

function between(one: BoundPress, a: number, other: BoundPress, b: number): readonly ChordConflict[] {
  // Two chords of the operating system are its own affair.
  if (one.instance === undefined && other.instance === undefined) return [];
  const same = sameChord(one, other);
  const together = one.instance === other.instance || one.instance === undefined || other.instance === undefined;
  if (!together) return one.action === other.action && !same ? [{ kind: 'differs', a, b }] : [];
  if (one.instance === undefined || other.instance === undefined) {
    const [press, reserved] = one.instance === undefined ? [b, a] : [a, b];
    if (same) return [{ kind: 'reserved', press, reserved }];
  } else if (one.action === other.action) return [];
  else if (same) return [{ kind: 'two-actions', a, b }];
  const found: ChordConflict[] = [];
  if (isInside(one, other) && one.fires === 'press') found.push({ kind: 'inside', shorter: a, longer: b });
  if (isInside(other, one) && other.fires === 'press') found.push({ kind: 'inside', shorter: b, longer: a });
  if (one.instance === other.instance) {
    const slips = slip(one, other);
    if (slips !== undefined && one.destructive && other.frequent)
      found.push({ kind: 'beside', destructive: a, frequent: b, slips });
    if (slips !== undefined && other.destructive && one.frequent)
      found.push({ kind: 'beside', destructive: b, frequent: a, slips: [slips[1], slips[0]] });
  }
  return found;
}

function sameChord(a: BoundPress, b: BoundPress): boolean {
  return a.positions.length === b.positions.length && a.positions.every((position) => b.positions.includes(position));
}

function isInside(shorter: BoundPress, longer: BoundPress): boolean {
  return (
    shorter.positions.length < longer.positions.length &&
    shorter.positions.every((position) => longer.positions.includes(position))
  );
}

/** The two neighbouring controls in which alone two chords differ. */
function slip(a: BoundPress, b: BoundPress): readonly [Position, Position] | undefined {
  const [one, ...more] = a.positions.filter((position) => !b.positions.includes(position));
  const [other, ...others] = b.positions.filter((position) => !a.positions.includes(position));
  if (one === undefined || other === undefined || more.length > 0 || others.length > 0) return undefined;
  return areNeighbours(one, other) ? [one, other] : undefined;
}
