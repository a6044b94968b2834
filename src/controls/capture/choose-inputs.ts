import type { AxisFacts, DeviceInput } from '../../model/device.ts';
import { codeName } from '../event-codes.ts';
import { seenWithUdev } from '../sdl-order.ts';
import type { KernelInput } from './capture.ts';

/** An input that a person can press, with the name that the profile gives it. */
export interface ChosenInput {
  readonly kernel: KernelInput;
  readonly input: DeviceInput;
}

/** Volume, power, sleep: keys on the case that are worth an input of their own. */
const caseKeys = [0x72, 0x73, 0x74, 0x8e];
const lid = 0x00;

export type AxisFactsOf = (kernel: KernelInput, number: number) => Omit<AxisFacts, 'code' | 'number'> | undefined;

function toDeviceInput(kernel: KernelInput, name: string, factsOf: AxisFactsOf): DeviceInput {
  const named = (kind: 'key' | 'switch', numbers: readonly number[]): readonly { code: string; number: number }[] =>
    numbers.map((number) => ({ code: codeName(kind, number), number }));
  return {
    name,
    identity: kernel.identity,
    keys: named('key', kernel.keys),
    axes: kernel.axes.map((number) => ({ code: codeName('axis', number), number, ...factsOf(kernel, number) })),
    ...(kernel.switches.length === 0 ? {} : { switches: named('switch', kernel.switches) }),
  };
}

/** Whether an input is a game pad, or a part of one: it has joystick buttons or axes, and is no pen or touch screen. */
export function looksLikePad(kernel: KernelInput): boolean {
  if (kernel.tilt) return false;
  const keys = new Set(kernel.keys);
  // A screen or pad for fingers has BTN_TOUCH and no joystick button (BTN_JOYSTICK to BTN_THUMBR, BTN_DPAD_…).
  const buttons = kernel.keys.some(
    (n) => (n >= 0x120 && n < 0x140) || (n >= 0x220 && n <= 0x227) || (n >= 0x2c0 && n <= 0x2e7),
  );
  if (keys.has(0x14a) && !buttons) return false;
  // A mouse or keyboard with stray axes has letters, or the left mouse button.
  if (!buttons && (keys.has(0x110) || keys.has(0x1e))) return false;
  return seenWithUdev(toDeviceInput(kernel, '', () => undefined));
}

/**
 * Of all inputs of the kernel those that the profile knows: the game pad, which may be split over two inputs or merged by
 * a program that makes one of its own, and what holds volume, power or the lid. `pressed` says whether an input sent
 * anything in the press test; where some pad did, pads that did not are another one that was plugged in. Inputs made by
 * a program come first among pads, since programs that play read those.
 */
export function chooseInputs(
  inputs: readonly KernelInput[],
  pressed: (input: KernelInput) => boolean,
  factsOf: AxisFactsOf,
): readonly ChosenInput[] {
  const all = inputs.filter(looksLikePad);
  const used = all.filter(pressed);
  const pads = (used.length > 0 ? used : all).toSorted((a, b) => Number(b.virtual) - Number(a.virtual));
  const others = inputs.filter(
    (input) =>
      !all.includes(input) &&
      (pressed(input) || input.keys.some((key) => caseKeys.includes(key)) || input.switches.includes(lid)),
  );
  const taken = new Map<string, number>();
  return [...pads, ...others].map((kernel) => {
    const kind = pads.includes(kernel) ? 'pad' : kernel.keys.length > 0 || kernel.axes.length > 0 ? 'keys' : 'lid';
    const count = (taken.get(kind) ?? 0) + 1;
    taken.set(kind, count);
    return { kernel, input: toDeviceInput(kernel, count === 1 ? kind : `${kind}-${count}`, factsOf) };
  });
}
