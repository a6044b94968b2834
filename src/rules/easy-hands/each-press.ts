import type { ScopePoint } from '../../model/resolved.ts';
import { boundPresses, hotkeyPoints } from '../chords/bound-presses.ts';
import type { Bound } from '../chords/bound-presses.ts';
import type { RuleInput } from '../contract.ts';

/** A press of a hotkey that a frontend instance takes. */
export interface OwnPress extends Bound {
  readonly instance: string;
}

/** The hotkeys of one scope point, without what the operating system takes. */
export function ownPresses(input: RuleInput, point: ScopePoint): readonly OwnPress[] {
  return boundPresses(input, point).flatMap((press) =>
    press.instance === undefined ? [] : [{ ...press, instance: press.instance }],
  );
}

/** Every hotkey of the device; one written once for several instances, systems or games is told once. */
export function eachPress(input: RuleInput): readonly OwnPress[] {
  const found = new Map<string, OwnPress>();
  for (const point of hotkeyPoints(input)) {
    for (const press of ownPresses(input, point)) {
      const key = [press.place.source.name, press.place.span.start, press.action, ...press.positions].join('\n');
      if (!found.has(key)) found.set(key, press);
    }
  }
  return [...found.values()];
}
