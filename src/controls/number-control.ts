import type {
  ControlSource,
  DeviceControl,
  DeviceControls,
  DeviceInput,
  Numbered,
  Numbering,
} from '../model/device.ts';
import { hasKernelJoystick, kernelJoystickOrder } from './kernel-joystick-order.ts';
import { w3cAxes, w3cButtons } from './position-codes.ts';
import { sdlOrders, seenWithoutUdev, seenWithUdev } from './sdl-order.ts';
import type { SdlOrder } from './sdl-order.ts';

/** The ways in which a numbering names a control, or why it names it in none. */
export interface NumberedControl {
  readonly numbered: readonly Numbered[];
  /** A clause: 'its index cannot be told without all codes of the device'. */
  readonly problem?: string;
  /** Whether more than one number is possible, by what is known of the axes and of the release. */
  readonly undecided?: true;
}

type ByIndex = Extract<Numbering, { order: 'sdl' | 'kernel-joystick' }>;

/** How a numbering names a control. Indices are ranks within the control's own input. */
export function numberControl(control: DeviceControl, controls: DeviceControls, numbering: Numbering): NumberedControl {
  const { position, sources } = control;
  switch (numbering.order) {
    case 'position':
      return { numbered: [{ form: 'text', text: position }] };
    case 'table': {
      const text = Object.hasOwn(numbering.table, position) ? numbering.table[position] : undefined;
      return text === undefined
        ? cannot(`the dialect's table has no word for ${position}`)
        : { numbered: [{ form: 'text', text }] };
    }
    case 'w3c':
      return byPlace(control);
    case 'code':
    case 'name': {
      if (sources.length === 0) return cannot(`nothing says what ${position} sends`);
      return {
        numbered: sources.map(({ code, number }) => ({
          form: 'text',
          text: numbering.order === 'name' ? code : String(number),
        })),
      };
    }
    case 'sdl':
    case 'kernel-joystick':
      return byIndex(control, controls, numbering);
  }
}

function cannot(problem: string): NumberedControl {
  return { numbered: [], problem };
}

/** The W3C "standard gamepad" goes by place alone. */
function byPlace({ position, sources }: DeviceControl): NumberedControl {
  const [source] = sources;
  const from = source === undefined ? {} : { source };
  const button = w3cButtons[position];
  if (button !== undefined) return { numbered: [{ form: 'button', index: button, ...from }] };
  const stick = w3cAxes[position];
  if (stick !== undefined) return { numbered: [{ form: 'axis', axis: stick[0], side: stick[1], ...from }] };
  return cannot(`the standard gamepad has no place for ${position}`);
}

function byIndex(control: DeviceControl, controls: DeviceControls, numbering: ByIndex): NumberedControl {
  if (!controls.complete)
    return cannot('its index cannot be told without all codes of the device (codes: or a capture)');
  if (control.sources.length === 0) return cannot(`nothing says what ${control.position} sends`);
  const numbered: Numbered[] = [];
  const problems: string[] = [];
  let undecided: string | undefined;
  for (const source of control.sources) {
    const input = controls.inputs.find(({ name }) => name === source.input);
    const found = input === undefined ? `the device has no input ${source.input}` : indexOf(source, input, numbering);
    if (typeof found === 'string') problems.push(found);
    else if ('undecided' in found) undecided ??= found.undecided;
    else numbered.push(found);
  }
  if (undecided !== undefined) problems.push(undecided);
  const [problem] = problems;
  return {
    ...(numbered.length === 0 && problem !== undefined ? cannot(problem) : { numbered }),
    ...(undecided === undefined ? {} : { undecided: true }),
  };
}

function indexOf(
  source: ControlSource,
  input: DeviceInput,
  numbering: ByIndex,
): Numbered | string | { readonly undecided: string } {
  if (source.kind === 'switch') return `${source.code} is a switch, which has no index`;
  if (numbering.order === 'kernel-joystick') return byKernel(source, input);
  if (!(numbering.udev ? seenWithUdev(input) : seenWithoutUdev(input))) {
    return `SDL ${numbering.udev ? 'with' : 'without'} udev does not take the input ${input.name} for a joystick`;
  }
  const found = sdlOrders(input, numbering.version).map((order) => bySdl(source, order, numbering.version));
  const [first = '', ...others] = found;
  const same = JSON.stringify(first);
  if (others.every((other) => JSON.stringify(other) === same)) return first;
  return {
    undecided: `what is known of the axes of ${input.name} and of SDL ${numbering.version} leaves open which number ${source.code} has (a capture with axis facts, or the exact version, tells)`,
  };
}

function bySdl(source: ControlSource, order: SdlOrder, version: string): Numbered | string {
  if (source.kind !== 'axis') {
    const index = order.buttons.indexOf(source.number);
    return index < 0 ? `SDL does not count ${source.code}` : { form: 'button', index, source };
  }
  const { number, side } = source;
  const hat = number >= 0x10 && number <= 0x17 ? order.hats.indexOf(number & ~1) : -1;
  if (hat >= 0) {
    const direction = number % 2 === 0 ? (side === '-' ? 'left' : 'right') : side === '-' ? 'up' : 'down';
    return { form: 'hat', hat, direction, source };
  }
  const axis = order.axes.indexOf(number);
  return axis < 0
    ? `SDL ${version} does not count ${source.code} on this device`
    : { form: 'axis', axis, side, source };
}

function byKernel(source: ControlSource, input: DeviceInput): Numbered | string {
  if (!hasKernelJoystick(input)) return `the kernel gives the input ${input.name} no joystick interface`;
  const order = kernelJoystickOrder(input);
  if (source.kind === 'axis') {
    const axis = order.axes.indexOf(source.number);
    return axis < 0
      ? `${source.code} is not on the input ${input.name}`
      : { form: 'axis', axis, side: source.side, source };
  }
  const index = order.buttons.indexOf(source.number);
  return index < 0 ? `the joystick interface does not count ${source.code}` : { form: 'button', index, source };
}
