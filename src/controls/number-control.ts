import type { AxisFacts, ControlSource, DeviceControl, DeviceControls, DeviceInput, Numbered, Numbering } from '../model/device.ts';
import { w3cAxes, w3cButtons } from './position-codes.ts';

/** The ways in which a numbering names a control, or why it names it in none. */
export interface NumberedControl {
  readonly numbered: readonly Numbered[];
  /** A clause: 'its index cannot be told without all codes of the device'. */
  readonly problem?: string;
}

const hatAxes = [0x10, 0x12, 0x14, 0x16] as const;

/** Version text to numbers, for comparing SDL releases. */
function versionAtLeast(version: string, wanted: readonly [number, number, number]): boolean {
  const parts = version.split('.').map((part) => Number.parseInt(part, 10) || 0);
  for (let k = 0; k < 3; k++) {
    const difference = (parts[k] ?? 0) - (wanted[k] ?? 0);
    if (difference !== 0) return difference > 0;
  }
  return true;
}

/**
 * Whether SDL takes a pair of axes for a hat (SDL_sysjoystick.c, release-2.26.x, line 918): at least one is there, and
 * all that are there are -1..1, or all have fuzz, flat and resolution 0. Undefined: the facts are not known.
 */
function isHat(input: DeviceInput, first: number): boolean | undefined {
  const present = input.axes.filter((axis) => axis.number === first || axis.number === first + 1);
  if (present.length === 0) return false;
  const unknown = present.some((axis) => axis.minimum === undefined || axis.maximum === undefined || axis.fuzz === undefined || axis.flat === undefined || axis.resolution === undefined);
  // A d-pad on the first hat is -1..1 in all drivers seen (common practice, no source); the others may be triggers.
  if (unknown) return first === 0x10 ? true : undefined;
  const digital = present.every((axis) => axis.minimum === -1 && axis.maximum === 1);
  const still = present.every((axis) => axis.fuzz === 0 && axis.flat === 0 && axis.resolution === 0);
  return digital || still;
}

interface SdlOrder {
  readonly buttons: readonly number[];
  readonly axes: readonly number[];
  /** First axis of each hat, in hat order. */
  readonly hats: readonly number[];
  /** Axis numbers whose being a hat is not known. */
  readonly undecided: readonly number[];
}

/** The order in which SDL's evdev backend numbers one input. */
export function sdlOrder(input: DeviceInput, version: string): SdlOrder {
  const keys = input.keys.map((key) => key.number);
  // Lines 966-985: 0x120..0x2fe ascending, then 0x000..0x11f ascending.
  const buttons = [...keys.filter((n) => n >= 0x120 && n < 0x2ff), ...keys.filter((n) => n < 0x120)];
  const hats: number[] = [];
  const undecided: number[] = [];
  for (const first of hatAxes) {
    const hat = isHat(input, first);
    if (hat === true) hats.push(first);
    else if (hat === undefined) undecided.push(first);
  }
  const inHat = (n: number): boolean => hats.includes(n & ~1) && n >= 0x10 && n <= 0x17;
  let axes = input.axes.map((axis) => axis.number).filter((n) => n < 0x3f && !inHat(n));
  // 2.24.0 to before 2.28.5 read past the ends of a table of hats (line 1024): a second hat loses gas and brake, any hat
  // loses the profile axis. Measured at 2.26.5.
  if (versionAtLeast(version, [2, 24, 0]) && !versionAtLeast(version, [2, 28, 5])) {
    if (hats.indexOf(0x12) > 0) axes = axes.filter((n) => n !== 0x09 && n !== 0x0a);
    if (hats.length > 0) axes = axes.filter((n) => n !== 0x21);
  }
  return { buttons, axes, hats, undecided };
}

/** Whether SDL sees the input as a joystick at all without udev (SDL_evdev_capabilities.c). */
export function seenWithoutUdev(input: DeviceInput): boolean {
  const axes = new Set(input.axes.map((axis) => axis.number));
  const keys = new Set(input.keys.map((key) => key.number));
  if (!axes.has(0) || !axes.has(1)) return false;
  const tells = [0x120, 0x130, 0x101].some((n) => keys.has(n));
  return tells || [0x03, 0x04, 0x05, 0x06, 0x07, 0x08, 0x09, 0x0a].some((n) => axes.has(n));
}

/** The order of the kernel's joystick interface (drivers/input/joydev.c, 6.1, lines 948-966): hats are plain axes. */
export function kernelJoystickOrder(input: DeviceInput): { readonly buttons: readonly number[]; readonly axes: readonly number[] } {
  const keys = input.keys.map((key) => key.number);
  return {
    buttons: [...keys.filter((n) => n >= 0x120), ...keys.filter((n) => n >= 0x100 && n < 0x120)],
    axes: input.axes.map((axis: AxisFacts) => axis.number),
  };
}

/** How a numbering names a control. Indices are ranks within the control's own input. */
export function numberControl(control: DeviceControl, controls: DeviceControls, numbering: Numbering): NumberedControl {
  switch (numbering.order) {
    case 'position':
      return { numbered: [{ form: 'text', text: control.position }] };
    case 'table': {
      const text = Object.hasOwn(numbering.table, control.position) ? numbering.table[control.position] : undefined;
      return text === undefined ? { numbered: [], problem: `the dialect's table has no word for ${control.position}` } : { numbered: [{ form: 'text', text }] };
    }
    case 'w3c': {
      const button = w3cButtons[control.position];
      const axis = w3cAxes[control.position];
      const [source] = control.sources;
      if (button !== undefined) return { numbered: [{ form: 'button', index: button, source: source ?? placeholder(control) }] };
      if (axis !== undefined) return { numbered: [{ form: 'axis', axis: axis[0], side: axis[1], source: source ?? placeholder(control) }] };
      return { numbered: [], problem: `the standard gamepad has no place for ${control.position}` };
    }
    case 'code':
    case 'name': {
      if (control.sources.length === 0) return { numbered: [], problem: `nothing says what ${control.position} sends` };
      return { numbered: control.sources.map((source) => ({ form: 'text', text: numbering.order === 'name' ? source.code : String(source.number) })) };
    }
    case 'sdl':
    case 'kernel-joystick':
      return byIndex(control, controls, numbering);
  }
}

function placeholder(control: DeviceControl): ControlSource {
  return { kind: 'key', input: '', code: control.position, number: -1 };
}

function byIndex(control: DeviceControl, controls: DeviceControls, numbering: Extract<Numbering, { order: 'sdl' | 'kernel-joystick' }>): NumberedControl {
  if (!controls.complete) return { numbered: [], problem: 'its index cannot be told without all codes of the device (codes: or a capture)' };
  if (control.sources.length === 0) return { numbered: [], problem: `nothing says what ${control.position} sends` };
  const numbered: Numbered[] = [];
  let problem: string | undefined;
  for (const source of control.sources) {
    const input = controls.inputs.find(({ name }) => name === source.input);
    if (input === undefined) continue;
    if (numbering.order === 'sdl' && !numbering.udev && !seenWithoutUdev(input)) {
      problem = `SDL without udev does not see the input ${input.name} as a joystick`;
      continue;
    }
    const found = numbering.order === 'sdl' ? bySdl(source, input, numbering.version) : byKernel(source, input);
    if (typeof found === 'string') problem = found;
    else numbered.push(found);
  }
  return { numbered, ...(numbered.length === 0 ? { problem: problem ?? `${control.position} has no index there` } : {}) };
}

function bySdl(source: ControlSource, input: DeviceInput, version: string): Numbered | string {
  const order = sdlOrder(input, version);
  if (source.kind === 'key') {
    const index = order.buttons.indexOf(source.number);
    return index < 0 ? `SDL does not count ${source.code}` : { form: 'button', index, source };
  }
  const hat = order.hats.indexOf(source.number & ~1);
  if (hat >= 0 && source.number >= 0x10 && source.number <= 0x17) {
    const sideways = source.number % 2 === 0;
    return { form: 'hat', hat, direction: sideways ? (source.side === '-' ? 'left' : 'right') : source.side === '-' ? 'up' : 'down', source };
  }
  const open = order.undecided.find((first) => first <= source.number);
  if (open !== undefined) return `whether the axes at ${open.toString(16)} (hexadecimal) are a hat is not known, and it shifts the index; a capture tells`;
  const axis = order.axes.indexOf(source.number);
  return axis < 0 ? `SDL ${version} does not count ${source.code} on this device` : { form: 'axis', axis, side: source.side, source };
}

function byKernel(source: ControlSource, input: DeviceInput): Numbered | string {
  const order = kernelJoystickOrder(input);
  if (source.kind === 'key') {
    const index = order.buttons.indexOf(source.number);
    return index < 0 ? `the joystick interface does not count ${source.code}` : { form: 'button', index, source };
  }
  const axis = order.axes.indexOf(source.number);
  return axis < 0 ? `${source.code} is not on the input ${input.name}` : { form: 'axis', axis, side: source.side, source };
}

