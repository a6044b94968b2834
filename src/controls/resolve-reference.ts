import { nearestNames } from '../diagnostics/nearest.ts';
import type { DeviceControls } from '../model/device.ts';
import { isPosition } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { ControlWritten } from '../vocabulary/shapes/profile.ts';

export type FoundReference =
  | { readonly kind: 'found'; readonly position: Position }
  | {
      readonly kind: 'missing';
      /** How it was asked for, for messages: `mode`, `a control labelled A`. */
      readonly as: string;
      /** Positions, or labels when it was asked for by label, of this device that were perhaps meant. */
      readonly nearest: readonly string[];
      /** The controls that all have the label; fewer than two when that is not what is wrong. */
      readonly several: readonly Position[];
    };

/** A position, or `{ label: A }`, among the controls of a device. A label on two controls is found on neither. */
export function findReference(reference: ControlWritten, controls: DeviceControls): FoundReference {
  if (typeof reference === 'string') {
    if (isPosition(reference) && controls.controls.has(reference)) return { kind: 'found', position: reference };
    return {
      kind: 'missing',
      as: reference,
      nearest: isPosition(reference) ? [] : nearestNames(reference, controls.controls.keys()),
      several: [],
    };
  }
  const all = [...controls.controls.values()];
  const having = all.filter((control) => control.label === reference.label).map((control) => control.position);
  const [first, second] = having;
  if (first !== undefined && second === undefined) return { kind: 'found', position: first };
  const labels = new Set(all.flatMap((control) => (control.label === undefined ? [] : [control.label])));
  // Labels of one or two letters are all near one another: only the case may differ.
  const within = reference.label.length < 3 ? 0 : undefined;
  return {
    kind: 'missing',
    as: `a control labelled ${reference.label}`,
    nearest: first === undefined ? nearestNames(reference.label, labels, within) : [],
    several: having,
  };
}
