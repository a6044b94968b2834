import type { Numbering } from '../model/device.ts';
import type { ControlsWritten } from '../vocabulary/shapes/dialect.ts';

/** The dialect's own numbering; positions by name when it gives none. */
export function dialectNumbering(controls: ControlsWritten | undefined): Numbering {
  const written = controls?.numbering;
  const { order, version, udev, table } = typeof written === 'object' ? written : { order: written };
  switch (order) {
    case 'sdl':
      return { order, version: version ?? '2.28', udev: udev ?? true };
    case 'table':
      return { order, table: table ?? {} };
    case 'kernel-joystick':
    case 'w3c':
    case 'code':
    case 'name':
      return { order };
    default:
      return { order: 'position' };
  }
}
