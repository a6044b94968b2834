import type { ControlSource, DeviceInput } from '../../model/device.ts';
import type { Position } from '../../vocabulary/positions.ts';

/** What a capture file says of a device's controls. */
export interface Capture {
  /** Those of the kernel's inputs that a person can press, named for the profile: `pad`, `keys`, `lid`, …. */
  readonly inputs: readonly DeviceInput[];
  /** What each control sent when it was pressed, in the press test's order. */
  readonly pressed: ReadonlyMap<Position, readonly ControlSource[]>;
}
