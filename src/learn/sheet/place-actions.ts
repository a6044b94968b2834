import type { Position } from '../../vocabulary/positions.ts';

/** In one copy: which control each of some actions is put on; the others stay. */
export type Placing = ReadonlyMap<string, Position>;

/** What a control most likely sends, since a program spells each in another way. */
function kindOf(position: Position): 'button' | 'hat' | 'axis' {
  if (position.startsWith('dpad-')) return 'hat';
  return position.startsWith('stick-') || position.startsWith('trigger-') ? 'axis' : 'button';
}

/** Controls with their kinds taken by turns, so that neighbours in the list differ in kind for as long as can be. */
function mixed(controls: readonly Position[]): readonly Position[] {
  const kinds = ['button', 'hat', 'axis'] as const;
  const queues = kinds.map((kind) => controls.filter((position) => kindOf(position) === kind));
  const longest = Math.max(0, ...queues.map((queue) => queue.length));
  return Array.from({ length: longest }, (_, at) => queues.flatMap((queue) => queue[at] ?? [])).flat();
}

/**
 * Two rounds, each of as many copies as it takes to give every action a control that no other has in that copy. In the
 * second round each action gets another control than in the first, of another kind where there is one. An action's
 * controls, copy by copy, are then its own: no other action has the same sequence.
 *
 * Undefined where the device has fewer than two controls to spare.
 */
export function placeActions(
  actions: readonly string[],
  controls: readonly Position[],
): readonly Placing[] | undefined {
  if (actions.length === 0) return [];
  const order = mixed(controls);
  if (order.length < 2) return undefined;
  const batches = Math.ceil(actions.length / order.length);
  const size = Math.ceil(actions.length / batches);
  const parts = Array.from({ length: batches }, (_, at) => actions.slice(at * size, (at + 1) * size));
  return [0, 1].flatMap((shift) =>
    parts.map(
      (part) =>
        new Map(
          part.flatMap((action, at) => {
            const position = order[(at + shift) % order.length];
            return position === undefined ? [] : [[action, position] as const];
          }),
        ),
    ),
  );
}
