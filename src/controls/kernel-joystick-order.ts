import type { DeviceInput } from '../model/device.ts';

/** How the kernel's joystick interface counts one input: event numbers in index order. Hats are two axes each. */
export interface KernelJoystickOrder {
  readonly buttons: readonly number[];
  readonly axes: readonly number[];
}

/** drivers/input/joydev.c (Linux 6.1.192), lines 948-966. */
export function kernelJoystickOrder(input: DeviceInput): KernelJoystickOrder {
  const keys = input.keys.map((key) => key.number);
  return {
    buttons: [...keys.filter((n) => n >= 0x120), ...keys.filter((n) => n >= 0x100 && n < 0x120)],
    axes: input.axes.map((axis) => axis.number),
  };
}

/** Whether the interface attaches to the input at all (the same file, lines 1028-1072; the list of those left out, line 777). */
export function hasKernelJoystick(input: DeviceInput): boolean {
  const keys = new Set(input.keys.map((key) => key.number));
  const axes = new Set(input.axes.map((axis) => axis.number));
  if (keys.has(0x14a) || keys.has(0x140)) return false;
  return [0x00, 0x02, 0x08, 0x06].some((n) => axes.has(n)) || [0x120, 0x130, 0x2c0].some((n) => keys.has(n));
}
