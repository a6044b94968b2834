import type { ControlSource, DeviceInput } from '../../model/device.ts';
import type { Position } from '../../vocabulary/positions.ts';

/** What a capture file says of a device's controls. */
export interface Capture {
  /** Those of the kernel's inputs that a person can press, named for the profile: `pad`, `pad-2`, `keys`, `lid`. */
  readonly inputs: readonly DeviceInput[];
  /** What the kernel says of each of them, by the profile's name of the input. */
  readonly identities: ReadonlyMap<string, InputIdentity>;
  /** What each control sent when it was pressed. */
  readonly pressed: ReadonlyMap<Position, readonly ControlSource[]>;
  /** Controls of the press test that could not be placed: to be pressed again. */
  readonly unplaced: readonly Position[];
}

/** Of the `I:` and `N:` lines of the kernel's list. */
export interface InputIdentity {
  readonly bus: number;
  readonly vendor: number;
  readonly product: number;
  readonly version: number;
  readonly name: string;
}

/** One block of the kernel's list. Codes are ascending; `undefined` where the kernel writes no such bitmap. */
export interface KernelInput {
  readonly identity: InputIdentity;
  /** `event3`, the file under /dev/input that its events come from. */
  readonly event: string | undefined;
  /** Made by a program (uinput), not by a driver. */
  readonly virtual: boolean;
  readonly keys: readonly number[];
  readonly axes: readonly number[];
  readonly switches: readonly number[];
  /** Of its `I:` line, counted from 1. */
  readonly line: number;
}

/** One event of an input. Time in milliseconds. */
export interface InputEvent {
  readonly event: string;
  readonly at: number;
  readonly type: number;
  readonly code: number;
  readonly value: number;
  readonly line: number;
}
