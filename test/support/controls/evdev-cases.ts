import { codeName } from '../../../src/controls/event-codes.ts';
import type { ControlSource, DeviceControl, DeviceControls, DeviceInput } from '../../../src/model/device.ts';
import { readStandard } from '../standards/read-standard.ts';

interface Indexed {
  readonly index: number;
  readonly code: number;
}

/** One device of evdev-index-cases.json: made with uinput on Linux 6.1.192, read through joydev and SDL 2.26.5. */
export interface EvdevCase {
  readonly id: string;
  readonly name: string;
  readonly bus: string;
  readonly vendor: string;
  readonly product: string;
  readonly version: string;
  readonly keys: readonly { readonly code: number; readonly name: string }[];
  readonly abs: readonly {
    readonly code: number;
    readonly min: number;
    readonly max: number;
    readonly fuzz: number;
    readonly flat: number;
    readonly resolution: number;
  }[];
  readonly proc_key_64bit: string;
  readonly proc_abs_64bit: string;
  readonly proc_key_32bit: string;
  readonly proc_abs_32bit: string;
  readonly proc_text_64bit: string;
  readonly joydev: {
    readonly attached: boolean;
    readonly buttons: readonly Indexed[];
    readonly axes: readonly Indexed[];
  };
  readonly sdl_2_26_5: {
    readonly seen_without_udev: boolean | null;
    readonly seen_with_udev: boolean | null;
    readonly guid: string;
    readonly num_axes: number;
    readonly num_hats: number;
    readonly buttons: readonly Indexed[];
    readonly axes_and_hats: readonly {
      readonly code: number;
      readonly name: string;
      readonly seen_as: string;
      readonly index?: number;
      readonly value_at_maximum?: number;
    }[];
    readonly auto_mapping: string | null;
  };
}

const file = readStandard<{ readonly cases: readonly EvdevCase[] }>('evdev-index-cases.json');

export const evdevCases = file.cases;

/** The device of a case as an input of a profile, with all axis facts. */
export function inputOf(one: EvdevCase): DeviceInput {
  return {
    name: 'pad',
    keys: [...one.keys]
      .sort((a, b) => a.code - b.code)
      .map(({ code }) => ({ code: codeName('key', code), number: code })),
    axes: [...one.abs]
      .sort((a, b) => a.code - b.code)
      .map(({ code, min, max, fuzz, flat, resolution }) => ({
        code: codeName('axis', code),
        number: code,
        minimum: min,
        maximum: max,
        fuzz,
        flat,
        resolution,
      })),
  };
}

/** A control that sends one thing. */
export function sending(source: ControlSource): DeviceControl {
  return {
    position: 'extra-1',
    sources: [source],
    place: { source: { name: 'test', text: '' }, span: { start: 0, end: 0 } },
  };
}

export function controlsOf(...inputs: readonly DeviceInput[]): DeviceControls {
  return { inputs, complete: true, controls: new Map() };
}

export function keySource(number: number): ControlSource {
  return { kind: 'key', input: 'pad', code: codeName('key', number), number };
}

export function axisSource(number: number, side: '+' | '-'): ControlSource {
  return { kind: 'axis', input: 'pad', code: codeName('axis', number), number, side };
}
