/** Fingers that may reach a control, by the hand. */
export const fingers = [
  'left-thumb',
  'left-index',
  'left-middle',
  'left-ring',
  'left-little',
  'right-thumb',
  'right-index',
  'right-middle',
  'right-ring',
  'right-little',
] as const;

export type Finger = (typeof fingers)[number];
