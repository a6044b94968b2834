/** Where a control sits, after the Linux gamepad specification. Volume, power and lid have positions too. */
export const positions = [
  'south',
  'east',
  'west',
  'north',
  'dpad-up',
  'dpad-down',
  'dpad-left',
  'dpad-right',
  'shoulder-left',
  'shoulder-right',
  'trigger-left',
  'trigger-right',
  'select',
  'start',
  'mode',
  'thumb-left',
  'thumb-right',
  'stick-left-up',
  'stick-left-down',
  'stick-left-left',
  'stick-left-right',
  'stick-right-up',
  'stick-right-down',
  'stick-right-left',
  'stick-right-right',
  'volume-up',
  'volume-down',
  'power',
  'lid',
  'extra-1',
  'extra-2',
  'extra-3',
  'extra-4',
  'extra-5',
  'extra-6',
  'extra-7',
  'extra-8',
] as const;

export type Position = (typeof positions)[number];

const known: ReadonlySet<string> = new Set(positions);

export function isPosition(text: string): text is Position {
  return known.has(text);
}
