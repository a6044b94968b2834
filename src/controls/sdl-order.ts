import type { AxisFacts, DeviceInput } from '../model/device.ts';

/** How SDL's evdev backend counts one input: event numbers in index order; of a hat, its first axis. */
export interface SdlOrder {
  readonly buttons: readonly number[];
  readonly axes: readonly number[];
  readonly hats: readonly number[];
}

const hatAxes = [0x10, 0x12, 0x14, 0x16] as const;

/** Compares release numbers member by member; a member that is not written is taken as `missing`. */
function compareRelease(version: string, wanted: readonly number[], missing: number): number {
  const parts = version.split('.').map((part) => Number.parseInt(part, 10));
  for (const [k, want] of wanted.entries()) {
    const have = parts[k];
    const difference = (have === undefined || Number.isNaN(have) ? missing : have) - want;
    if (difference !== 0) return difference;
  }
  return 0;
}

/**
 * Whether SDL takes a pair of axes for a hat (SDL_sysjoystick.c, release-2.26.x, function at line 918): at least one is
 * there, and all that are there are -1..1, or all have fuzz, flat and resolution 0. Undefined: the facts leave it open.
 */
function isHat(input: DeviceInput, first: number, version: string): boolean | undefined {
  const present = input.axes.filter((axis) => axis.number === first || axis.number === first + 1);
  if (present.length === 0) return false;
  // Before 2.24 every such pair was a hat (from memory; the judging function came with 2.24).
  if (compareRelease(version, [2, 24], 0) < 0) return true;
  const digital = allAre(present, (axis) => both(is(axis.minimum, -1), is(axis.maximum, 1)));
  const still = allAre(present, (axis) => both(both(is(axis.fuzz, 0), is(axis.flat, 0)), is(axis.resolution, 0)));
  if (digital === true || still === true) return true;
  if (digital === false && still === false) return false;
  // A d-pad on the first hat is -1..1 in every driver seen (common practice, no source); the others may be triggers.
  return first === 0x10 && digital === undefined ? true : undefined;
}

type Known = boolean | undefined;

function is(have: number | undefined, want: number): Known {
  return have === undefined ? undefined : have === want;
}

function both(a: Known, b: Known): Known {
  if (a === false || b === false) return false;
  return a === undefined || b === undefined ? undefined : true;
}

function allAre(axes: readonly AxisFacts[], test: (axis: AxisFacts) => Known): Known {
  return axes.reduce<Known>((known, axis) => both(known, test(axis)), true);
}

/**
 * Every order that what is known of the axes and of the release leaves open; a single one where all is known. Buttons:
 * lines 966-985; hats: 986-1021; axes: 1022-1065 of the same file.
 */
export function sdlOrders(input: DeviceInput, version: string): readonly SdlOrder[] {
  let known = ordersOnce.get(input);
  if (known === undefined) ordersOnce.set(input, (known = new Map<string, readonly SdlOrder[]>()));
  let orders = known.get(version);
  if (orders === undefined) known.set(version, (orders = findOrders(input, version)));
  return orders;
}

/** Each control of an input asks for the orders of all. */
const ordersOnce = new WeakMap<DeviceInput, Map<string, readonly SdlOrder[]>>();

function findOrders(input: DeviceInput, version: string): readonly SdlOrder[] {
  const keys = input.keys.map((key) => key.number);
  const buttons = [...keys.filter((n) => n >= 0x120 && n < 0x2ff), ...keys.filter((n) => n < 0x120)];
  let worlds: readonly (readonly number[])[] = [[]];
  for (const first of hatAxes) {
    const hat = isHat(input, first, version);
    if (hat === false) continue;
    worlds = worlds.flatMap((hats) => (hat === true ? [[...hats, first]] : [[...hats, first], hats]));
  }
  return worlds.flatMap((hats) => {
    const inHat = (n: number): boolean => n >= 0x10 && n <= 0x17 && hats.includes(n & ~1);
    const axes = input.axes.map((axis) => axis.number).filter((n) => n < 0x3f && !inHat(n));
    return readsPastTable(version).map((bug) => ({
      buttons,
      hats,
      axes: bug ? axes.filter((n) => !lost(n, hats)) : axes,
    }));
  });
}

/** 2.24.0 to 2.28.0 have the mistake, 2.28.5 and later do not; of those between nothing is known. */
function readsPastTable(version: string): readonly boolean[] {
  if (compareRelease(version, [2, 24, 0], 0) < 0 || compareRelease(version, [2, 28, 5], 0) >= 0) return [false];
  return compareRelease(version, [2, 28, 0], 9) <= 0 ? [true] : [true, false];
}

/** Line 1024 reads past a table of hats: a second hat loses gas and brake, any hat loses the profile axis (measured at 2.26.5). */
function lost(axis: number, hats: readonly number[]): boolean {
  if (axis === 0x09 || axis === 0x0a) return hats.indexOf(0x12) > 0;
  return axis === 0x21 && hats.length > 0;
}

/** Whether SDL sees the input as a joystick without udev (SDL_evdev_capabilities.c, release-2.26.x). */
export function seenWithoutUdev(input: DeviceInput): boolean {
  const axes = new Set(input.axes.map((axis) => axis.number));
  const keys = new Set(input.keys.map((key) => key.number));
  if (!axes.has(0x00) || !axes.has(0x01)) return false;
  if ([0x120, 0x130, 0x101].some((n) => keys.has(n))) return true;
  return [0x03, 0x04, 0x05, 0x06, 0x07, 0x08, 0x09, 0x0a].some((n) => axes.has(n));
}

/**
 * Whether udev marks the input ID_INPUT_JOYSTICK: a button of the joystick, gamepad, d-pad or trigger-happy ranges, or an
 * axis beyond X, Y and Z (systemd's input_id, from memory; it agrees with the inputs measured under systemd-udev 252).
 */
export function seenWithUdev(input: DeviceInput): boolean {
  const button = (n: number): boolean =>
    (n >= 0x120 && n < 0x140) || (n >= 0x220 && n <= 0x223) || (n >= 0x2c0 && n <= 0x2e7);
  return (
    input.keys.some((key) => button(key.number)) || input.axes.some((axis) => axis.number >= 0x03 && axis.number < 0x18)
  );
}
