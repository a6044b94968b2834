import type { Body } from '../controls/chords/fingers.ts';

/** Rows of cells; `.` is an empty one, `~` screen, `=` the hinge. Our own: no device looks exactly so. */
export const layouts: Readonly<Record<Body, readonly string[]>> = {
  upright: [
    'trigger-left shoulder-left . . . . shoulder-right trigger-right',
    'volume-up ~ ~ ~ ~ ~ ~ power',
    'volume-down ~ ~ ~ ~ ~ ~ .',
    '. dpad-up . . . . north .',
    'dpad-left . dpad-right . . west . east',
    '. dpad-down . . . . south .',
    '. . select . mode . start .',
    '. stick-left . extra-1 extra-2 . stick-right .',
  ],
  wide: [
    'trigger-left shoulder-left . volume-down volume-up power . . shoulder-right trigger-right',
    '. dpad-up . ~ ~ ~ ~ . north .',
    'dpad-left . dpad-right ~ ~ ~ ~ west . east',
    '. dpad-down . ~ ~ ~ ~ . south .',
    '. select . ~ ~ ~ ~ . start .',
    '. stick-left . extra-1 mode . extra-2 . stick-right .',
  ],
  folding: [
    '. ~ ~ ~ ~ ~ ~ .',
    '. ~ ~ ~ ~ ~ ~ .',
    'trigger-left shoulder-left = = = = shoulder-right trigger-right',
    '. dpad-up . power mode . north .',
    'dpad-left . dpad-right . . west . east',
    '. dpad-down . . . . south .',
    'volume-down volume-up select . . start extra-1 extra-2',
    '. stick-left . . . . stick-right .',
  ],
};

const sticks: Readonly<Record<string, RegExp>> = {
  'stick-left': /^(stick-left-|thumb-left$)/,
  'stick-right': /^(stick-right-|thumb-right$)/,
};

/** The positions that a cell of a layout stands for: a stick's directions and its click lie on one another. */
export function positionsAt(cell: string, has: readonly string[]): readonly string[] {
  const stick = sticks[cell];
  return has.filter((position) => (stick === undefined ? position === cell : stick.test(position)));
}

/** Whether a cell is a stick. */
export function isStick(cell: string): boolean {
  return cell in sticks;
}
