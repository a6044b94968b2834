import type { ControlSource, DeviceInput, InputIdentity } from '../../model/device.ts';
import type { Position } from '../../vocabulary/positions.ts';

/** What a capture file says of a device's controls. */
export interface Capture {
  /** Those of the kernel's inputs that a person can press, named for the profile: `pad`, `pad-2`, `keys`, `lid`; with their identities. */
  readonly inputs: readonly DeviceInput[];
  /** What each control sent when it was pressed. */
  readonly pressed: ReadonlyMap<Position, readonly ControlSource[]>;
  /** Controls of the press test that could not be placed: to be pressed again. */
  readonly unplaced: readonly Position[];
}

/** One block of the kernel's list. Codes are ascending; `undefined` where the kernel writes no such bitmap. */
export interface KernelInput {
  readonly identity: InputIdentity;
  /** `event3`, the file under /dev/input that its events come from. */
  readonly event: string | undefined;
  /** Made by a program (uinput), not by a driver. */
  readonly virtual: boolean;
  /** Feels how it is held (INPUT_PROP_ACCELEROMETER), which is no stick, though it has axes. */
  readonly tilt: boolean;
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
