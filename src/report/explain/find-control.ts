import { findReference } from '../../controls/resolve-reference.ts';
import type { DeviceControl, DeviceControls } from '../../model/device.ts';
import { isPosition } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';

export type FoundControl =
  | { readonly kind: 'found'; readonly control: DeviceControl }
  /** A label that stands on each of these. */
  | { readonly kind: 'several'; readonly positions: readonly Position[] }
  /** A position, but this device has nothing there. */
  | { readonly kind: 'lacking' }
  /** Neither a position nor a label; `nearest`: those of this device that were perhaps meant. */
  | { readonly kind: 'unknown'; readonly nearest: readonly string[] };

/** The control that a person names by its position or by what is printed on it. */
export function findControl(reference: string, controls: DeviceControls): FoundControl {
  const byPosition = findReference(reference, controls);
  const found = byPosition.kind === 'found' ? byPosition : findReference({ label: reference }, controls);
  if (found.kind === 'found') {
    const control = controls.controls.get(found.position);
    if (control !== undefined) return { kind: 'found', control };
  }
  if (found.kind === 'missing' && found.several.length > 0) return { kind: 'several', positions: found.several };
  if (isPosition(reference)) return { kind: 'lacking' };
  const near = [byPosition, found].flatMap((one) => (one.kind === 'missing' ? one.nearest : []));
  return { kind: 'unknown', nearest: [...new Set(near)] };
}
