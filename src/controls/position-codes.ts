import type { Position } from '../vocabulary/positions.ts';

/**
 * The codes by which a control at a position is looked for, best first. After the Linux Gamepad Specification
 * (Documentation/input/gamepad.rst, kernel 6.1); ABS_Z and ABS_RZ for triggers are common practice, not in that text.
 */
export const positionCodes: Readonly<Record<Position, readonly string[]>> = {
  south: ['BTN_SOUTH'],
  east: ['BTN_EAST'],
  west: ['BTN_WEST'],
  north: ['BTN_NORTH'],
  'dpad-up': ['BTN_DPAD_UP', 'ABS_HAT0Y-'],
  'dpad-down': ['BTN_DPAD_DOWN', 'ABS_HAT0Y+'],
  'dpad-left': ['BTN_DPAD_LEFT', 'ABS_HAT0X-'],
  'dpad-right': ['BTN_DPAD_RIGHT', 'ABS_HAT0X+'],
  'shoulder-left': ['BTN_TL', 'ABS_HAT1Y+'],
  'shoulder-right': ['BTN_TR', 'ABS_HAT1X+'],
  'trigger-left': ['BTN_TL2', 'ABS_HAT2Y+', 'ABS_Z+'],
  'trigger-right': ['BTN_TR2', 'ABS_HAT2X+', 'ABS_RZ+'],
  select: ['BTN_SELECT'],
  start: ['BTN_START'],
  mode: ['BTN_MODE'],
  'thumb-left': ['BTN_THUMBL'],
  'thumb-right': ['BTN_THUMBR'],
  'stick-left-up': ['ABS_Y-'],
  'stick-left-down': ['ABS_Y+'],
  'stick-left-left': ['ABS_X-'],
  'stick-left-right': ['ABS_X+'],
  'stick-right-up': ['ABS_RY-'],
  'stick-right-down': ['ABS_RY+'],
  'stick-right-left': ['ABS_RX-'],
  'stick-right-right': ['ABS_RX+'],
  'volume-up': ['KEY_VOLUMEUP'],
  'volume-down': ['KEY_VOLUMEDOWN'],
  power: ['KEY_POWER'],
  lid: ['SW_LID'],
  'extra-1': ['BTN_GRIPL'],
  'extra-2': ['BTN_GRIPR'],
  'extra-3': ['BTN_GRIPL2'],
  'extra-4': ['BTN_GRIPR2'],
  'extra-5': [],
  'extra-6': [],
  'extra-7': [],
  'extra-8': [],
};

/** Index in the W3C "standard gamepad" (w3c/gamepad, Remapping), by position. */
export const w3cButtons: Partial<Readonly<Record<Position, number>>> = {
  south: 0,
  east: 1,
  west: 2,
  north: 3,
  'shoulder-left': 4,
  'shoulder-right': 5,
  'trigger-left': 6,
  'trigger-right': 7,
  select: 8,
  start: 9,
  'thumb-left': 10,
  'thumb-right': 11,
  'dpad-up': 12,
  'dpad-down': 13,
  'dpad-left': 14,
  'dpad-right': 15,
  mode: 16,
};

/** Axis and side in the same mapping: negative is left and up. */
export const w3cAxes: Partial<Readonly<Record<Position, readonly [axis: number, side: '+' | '-']>>> = {
  'stick-left-left': [0, '-'],
  'stick-left-right': [0, '+'],
  'stick-left-up': [1, '-'],
  'stick-left-down': [1, '+'],
  'stick-right-left': [2, '-'],
  'stick-right-right': [2, '+'],
  'stick-right-up': [3, '-'],
  'stick-right-down': [3, '+'],
};
