import { findConflicts } from '../../controls/chords/find-conflicts.ts';
import type { BoundPress, ChordConflict } from '../../controls/chords/find-conflicts.ts';
import type { Decision, ReservedChord, ScopePoint } from '../../model/resolved.ts';
import type { Place } from '../../text/place.ts';
import { settings } from '../../vocabulary/registry.ts';
import type { RuleInput } from '../contract.ts';

/** A press, with what made it. */
export interface Bound extends BoundPress {
  readonly setting: string | undefined;
  readonly place: Place;
  readonly decision: Decision | undefined;
  readonly reserved: ReservedChord | undefined;
}

/** One conflict and the presses that it is between, in the order in which the conflict names them. */
export interface BoundConflict {
  readonly conflict: ChordConflict;
  readonly presses: readonly Bound[];
}

const start = 'hotkeys.bind.';
const binds = settings.filter(({ id }) => id.startsWith(start));
const known = new WeakMap<RuleInput, readonly BoundConflict[]>();

/** Every conflict of the device's chords, each told once, however many systems or games have it. */
export function conflictsOf(input: RuleInput): readonly BoundConflict[] {
  const before = known.get(input);
  if (before !== undefined) return before;
  const { device } = input.resolved;
  const found = new Map<string, BoundConflict>();
  for (const point of hotkeyPoints(input)) {
    const presses = boundPresses(input, point);
    for (const conflict of findConflicts(presses, device.body, device.hands)) {
      const between = indices(conflict).flatMap((index) => presses[index] ?? []);
      const key = JSON.stringify([
        conflict.kind,
        between.map(({ instance, action, positions }) => [instance, action, positions]),
      ]);
      if (!found.has(key)) found.set(key, { conflict, presses: between });
    }
  }
  const all = [...found.values()];
  known.set(input, all);
  return all;
}

/** Everything that is bound at one scope point, and what the operating system takes. */
export function boundPresses(input: RuleInput, point: ScopePoint): readonly Bound[] {
  const { resolved, compiled } = input;
  const cannot = new Set(
    compiled.fidelity
      .filter(({ fidelity }) => fidelity.kind === 'cannot')
      .map(({ setting, instance }) => `${instance} ${setting}`),
  );
  const presses: Bound[] = [];
  for (const instance of resolved.instances) {
    const controls = instance.dialect.data.controls;
    const held = resolved.decide(instance, 'hotkeys.hold', point)?.value;
    const hold = held?.kind === 'control' && controls?.hold !== 'none' ? held.position : undefined;
    for (const { id, roles, destructive, frequent } of binds) {
      // A line reaches every instance; only those of its kind are asked for it.
      if (!roles.some((role) => instance.roles.includes(role))) continue;
      const decision = resolved.decide(instance, id, point);
      if (decision?.value.kind !== 'press' || cannot.has(`${instance.name} ${id}`)) continue;
      const { press } = decision.value;
      // With no hold control known, the chord is not known either.
      if (press.kind === 'with-hold' && hold === undefined) continue;
      const positions =
        press.kind === 'chord'
          ? press.positions
          : press.kind === 'alone' || hold === undefined
            ? [press.position]
            : [hold, press.position];
      presses.push({
        instance: instance.name,
        action: id.slice(start.length),
        // What is bound to the hold control itself is that control alone.
        positions: [...new Set(positions)],
        hold: press.kind === 'with-hold' ? hold : undefined,
        fires: controls?.fires ?? 'press',
        destructive: destructive === true,
        frequent: frequent === true,
        setting: id,
        place: decision.origin.place,
        decision,
        reserved: undefined,
      });
    }
  }
  for (const reserved of resolved.device.reserved) {
    presses.push({
      instance: undefined,
      action: reserved.does,
      positions: reserved.positions,
      hold: undefined,
      fires: 'press',
      destructive: false,
      frequent: false,
      setting: undefined,
      place: reserved.place,
      decision: undefined,
      reserved,
    });
  }
  return presses;
}

/** The scope points at which any hotkey or the hold control is decided, the whole device first. */
export function hotkeyPoints({ resolved }: RuleInput): readonly ScopePoint[] {
  const points = new Map<string, ScopePoint>([['{}', {}]]);
  for (const instance of resolved.instances) {
    for (const id of ['hotkeys.hold', ...binds.map((setting) => setting.id)]) {
      for (const point of resolved.points(instance, id)) points.set(JSON.stringify(point), point);
    }
  }
  return [...points.values()];
}

function indices(conflict: ChordConflict): readonly number[] {
  switch (conflict.kind) {
    case 'two-actions':
    case 'differs':
      return [conflict.a, conflict.b];
    case 'reserved':
      return [conflict.press, conflict.reserved];
    case 'inside':
      return [conflict.shorter, conflict.longer];
    case 'beside':
      return [conflict.destructive, conflict.frequent];
    case 'same-finger':
    case 'unguarded':
      return [conflict.press];
  }
}

/** `mode + start`, as messages write a chord. */
export function spellChord({ positions }: { readonly positions: readonly string[] }): string {
  return positions.join(' + ');
}
