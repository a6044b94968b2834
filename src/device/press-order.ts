import { positionPlaces } from '../vocabulary/position-places.ts';

/** What is pressed in a test: power and the lid would end it, and extra controls are told apart by nobody. */
export const pressTestPositions: readonly string[] = Object.keys(positionPlaces);

/** The printed order: a line for each control, with a number, the name of its position, and where that is. */
export function pressOrderText(positions: readonly string[], seconds: number): string {
  const width = Math.max(0, ...positions.map((position) => position.length));
  const lines = positions.map((position, index) =>
    `${String(index + 1).padStart(4)}. ${position.padEnd(width)}  ${positionPlaces[position] ?? 'as your profile says'}`.trimEnd(),
  );
  return `Press these one after the other, in this order, each for half a second, one press each.
Leave out what the device does not have. There are ${seconds} seconds from the start of the script.

${lines.join('\n')}
`;
}
