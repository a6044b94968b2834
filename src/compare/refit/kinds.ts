import type { Position } from '../../vocabulary/positions.ts';

export type ControlKind =
  'face' | 'd-pad' | 'shoulder' | 'trigger' | 'menu button' | 'stick click' | 'stick' | 'side key' | 'extra';

const byBeginning: readonly (readonly [RegExp, ControlKind])[] = [
  [/^(south|east|west|north)$/, 'face'],
  [/^dpad-/, 'd-pad'],
  [/^shoulder-/, 'shoulder'],
  [/^trigger-/, 'trigger'],
  [/^(select|start|mode)$/, 'menu button'],
  [/^thumb-/, 'stick click'],
  [/^stick-/, 'stick'],
  [/^(volume-up|volume-down|power|lid)$/, 'side key'],
];

/** What sort of control sits at a position. */
export function kindOf(position: Position): ControlKind {
  return byBeginning.find(([pattern]) => pattern.test(position))?.[1] ?? 'extra';
}

/**
 * Whether a hotkey may be moved onto a control. A stick slips into a neighbouring direction, and volume, power and lid do
 * what they do whatever a frontend makes of them: a hotkey is left on one, but never moved there.
 */
export function mayTake(position: Position): boolean {
  const kind = kindOf(position);
  return kind !== 'stick' && kind !== 'side key';
}

/** Whether a control may become the hold control: not one that games use in every moment. */
export function mayHold(position: Position): boolean {
  const kind = kindOf(position);
  return mayTake(position) && kind !== 'face' && kind !== 'd-pad';
}

/** Whether a hotkey without hold may be moved onto a control: only one that few games play. */
export function mayTakeAlone(position: Position): boolean {
  const kind = kindOf(position);
  return kind === 'stick click' || kind === 'extra' || position === 'mode';
}
