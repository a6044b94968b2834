import type { DeviceControls } from '../model/device.ts';
import { isPosition } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { ControlWritten } from '../vocabulary/shapes/profile.ts';

export type FoundReference =
  | { readonly kind: 'found'; readonly position: Position }
  /** `as`: how it was asked for, for messages. */
  | { readonly kind: 'missing'; readonly as: string };

/** A position, or `{ label: A }`, among the controls of a device. A label on two controls is found on neither. */
export function findReference(reference: ControlWritten, controls: DeviceControls): FoundReference {
  if (typeof reference === 'string') {
    return isPosition(reference) && controls.controls.has(reference) ? { kind: 'found', position: reference } : { kind: 'missing', as: reference };
  }
  const having = [...controls.controls.values()].filter((control) => control.label === reference.label);
  const [first, second] = having;
  if (first === undefined || second !== undefined) return { kind: 'missing', as: `a control labelled ${reference.label}` };
  return { kind: 'found', position: first.position };
}
