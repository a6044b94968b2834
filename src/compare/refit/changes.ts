import type { Resolved, Selectors } from '../../model/resolved.ts';
import { sameValue } from '../../model/value.ts';
import type { Value } from '../../model/value.ts';
import type { Brought, Line } from './bring.ts';
import type { Proposal } from './refit.ts';

/** One setting to be given a value in the target's profile. */
export interface Change {
  readonly setting: string;
  readonly selectors: Selectors;
  /** `none`: a hotkey that has no place here is taken away. */
  readonly value: Value;
  /** Where it must be so afterwards: indices of the spots. */
  readonly spots: readonly number[];
  readonly ifPresent: boolean;
}

/** What a proposal would have the target's profile say, where that says anything else now. */
export function changesOf(brought: Brought, { holds, placed }: Proposal, to: Resolved): readonly Change[] {
  const wanted: { readonly line: Line; readonly value: Value }[] = [];
  for (const { hold, to: position } of holds) {
    const line = brought.lines.get(hold.id);
    if (line !== undefined && position !== undefined) wanted.push({ line, value: { kind: 'control', position } });
  }
  for (const { habit, placing } of placed) {
    const line = brought.lines.get(habit.id);
    if (line === undefined) continue;
    const value = valueOf(line, placing.press);
    // A hotkey that the target does not have needs no taking away.
    if (value.kind !== 'none' || asksFor(brought, line, to)) wanted.push({ line, value });
  }
  for (const line of brought.plain) wanted.push({ line, value: line.value });
  return wanted.flatMap(({ line, value }) => {
    const other = line.spots.filter((k) => {
      const spot = brought.spots[k];
      const now = spot === undefined ? undefined : to.decide(spot.instance, line.setting, spot.point)?.value;
      return now === undefined || !sameValue(now, value);
    });
    // To be taken away, and not there: nothing to do.
    const idle = value.kind === 'none' && !asksFor(brought, line, to);
    if (other.length === 0 || idle) return [];
    const { setting, selectors, spots, ifPresent } = line;
    return [{ setting, selectors, value, spots, ifPresent }];
  });
}

function valueOf({ value }: Line, press: Proposal['placed'][number]['placing']['press']): Value {
  if (press === undefined) return { kind: 'none' };
  if (press.kind === 'pad') return { kind: 'control', position: press.position };
  return { kind: 'press', press, while: value.kind === 'press' ? value.while : 'press' };
}

/** Whether some line of the target gives the setting a control, be it one that is lacking. */
function asksFor({ spots }: Brought, line: Line, to: Resolved): boolean {
  return line.spots.some((k) => {
    const spot = spots[k];
    const decided = spot === undefined ? undefined : to.decide(spot.instance, line.setting, spot.point);
    if (decided !== undefined) return decided.value.kind !== 'none';
    // Undecided though a line is there: it asks for what the device lacks.
    return to.candidates.some(
      ({ setting, wish }) => setting === line.setting && (wish.kind === 'binds' || wish.kind === 'controls'),
    );
  });
}
