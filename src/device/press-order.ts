/** Where each control sits, in words for someone who holds the device; in the order in which they are to be pressed. */
const places: Readonly<Record<string, string>> = {
  south: 'of the four buttons on the right, the lowest',
  east: 'of the four buttons on the right, the rightmost',
  west: 'of the four buttons on the right, the leftmost',
  north: 'of the four buttons on the right, the topmost',
  'dpad-up': 'the d-pad, upwards',
  'dpad-down': 'the d-pad, downwards',
  'dpad-left': 'the d-pad, to the left',
  'dpad-right': 'the d-pad, to the right',
  'shoulder-left': 'the upper button on the left shoulder',
  'shoulder-right': 'the upper button on the right shoulder',
  'trigger-left': 'the lower button on the left shoulder, all the way',
  'trigger-right': 'the lower button on the right shoulder, all the way',
  select: 'the small button left of the middle',
  start: 'the small button right of the middle',
  mode: 'the button for the menu, if there is a third one',
  'thumb-left': 'the left stick, pressed in like a button',
  'thumb-right': 'the right stick, pressed in like a button',
  'stick-left-up': 'the left stick, upwards to its end',
  'stick-left-down': 'the left stick, downwards to its end',
  'stick-left-left': 'the left stick, to the left to its end',
  'stick-left-right': 'the left stick, to the right to its end',
  'stick-right-up': 'the right stick, upwards to its end',
  'stick-right-down': 'the right stick, downwards to its end',
  'stick-right-left': 'the right stick, to the left to its end',
  'stick-right-right': 'the right stick, to the right to its end',
  'volume-up': 'louder',
  'volume-down': 'quieter',
};

/** What is pressed in a test: power and the lid would end it, and extra controls are told apart by nobody. */
export const pressTestPositions: readonly string[] = Object.keys(places);

/** The printed order: a line for each control, with a number, the name of its position, and where that is. */
export function pressOrderText(positions: readonly string[], seconds: number): string {
  const width = Math.max(0, ...positions.map((position) => position.length));
  const lines = positions.map((position, index) =>
    `${String(index + 1).padStart(4)}. ${position.padEnd(width)}  ${places[position] ?? 'as your profile says'}`.trimEnd(),
  );
  return `Press these one after the other, in this order, each for half a second, one press each.
Leave out what the device does not have. There are ${seconds} seconds from the start of the script.

${lines.join('\n')}
`;
}
