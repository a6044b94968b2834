import type { Position } from '../../vocabulary/positions.ts';

/** Controls between which a finger slips: not the opposite one of the four. */
const pairs: readonly (readonly [Position, Position])[] = [
  ['south', 'east'],
  ['east', 'north'],
  ['north', 'west'],
  ['west', 'south'],
  ['dpad-up', 'dpad-left'],
  ['dpad-up', 'dpad-right'],
  ['dpad-down', 'dpad-left'],
  ['dpad-down', 'dpad-right'],
  ['shoulder-left', 'shoulder-right'],
  ['trigger-left', 'trigger-right'],
];

/** Whether two controls are neighbouring face buttons, the two of one shoulder pair, or neighbouring d-pad directions. */
export function areNeighbours(a: Position, b: Position): boolean {
  return pairs.some(([one, other]) => (one === a && other === b) || (one === b && other === a));
}
