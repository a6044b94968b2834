import type { BindWish, Candidate, Rejected, ReservedChord } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { Press, Value } from '../model/value.ts';

export interface Assigned {
  readonly value: Value;
  readonly rejected: readonly Rejected[];
}

export type Assignment =
  | { readonly kind: 'assigned'; readonly assigned: Assigned }
  /** Only wishes with `if-present`, and their controls are not there: left alone. */
  | { readonly kind: 'absent'; readonly rejected: readonly Rejected[] }
  | { readonly kind: 'missing'; readonly missing: readonly string[] }
  | { readonly kind: 'taken'; readonly rejected: readonly Rejected[] };

/** What is pressed together, the hold control included: equal for two presses that the device cannot tell apart. */
function chordKey(press: Press, hold: Position | undefined): string {
  const together =
    press.kind === 'with-hold'
      ? [...(hold === undefined ? [] : [hold]), press.position]
      : press.kind === 'chord'
        ? press.positions
        : [press.position];
  return [...new Set(together)].sort().join('+');
}

/**
 * Gives each hotkey its press, for one instance and scope: single wishes first, then lists, both in vocabulary order
 * (the order of `winners`). A wish of a list is free when no other action and no reserved chord has its chord, and it
 * is not the hold control itself. A single wish is taken as it is; that it collides is for `check` to say.
 */
export function assignHotkeys(
  winners: readonly Candidate[],
  hold: Position | undefined,
  reserved: readonly ReservedChord[],
): ReadonlyMap<string, Assignment> {
  const taken = new Map<string, string>();
  for (const chord of reserved) taken.set([...chord.positions].sort().join('+'), `the system takes it: ${chord.does}`);
  const result = new Map<string, Assignment>();
  const wishesOf = (candidate: Candidate): readonly BindWish[] =>
    candidate.wish.kind === 'binds' ? candidate.wish.wishes : [];

  const settle = (candidate: Candidate, choosy: boolean): void => {
    const rejected: Rejected[] = [];
    const missing: string[] = [];
    let optional = true;
    for (const wish of wishesOf(candidate)) {
      if (wish.press.kind === 'missing') {
        if (!wish.ifPresent) {
          optional = false;
          missing.push(...wish.missing);
        }
        rejected.push({ what: wish.missing.join(' with '), why: 'the device does not have it', place: wish.place });
        continue;
      }
      if (wish.press.kind === 'none') {
        result.set(candidate.setting, { kind: 'assigned', assigned: { value: { kind: 'none' }, rejected } });
        return;
      }
      const key = chordKey(wish.press, hold);
      const by =
        taken.get(key) ??
        (wish.press.kind === 'with-hold' && wish.press.position === hold ? 'it is the hold control' : undefined);
      if (choosy && by !== undefined) {
        optional = false;
        rejected.push({ what: key, why: by, place: wish.place });
        continue;
      }
      if (!taken.has(key)) taken.set(key, `${candidate.setting} has it`);
      result.set(candidate.setting, {
        kind: 'assigned',
        assigned: { value: { kind: 'press', press: wish.press, while: wish.while }, rejected },
      });
      return;
    }
    result.set(
      candidate.setting,
      optional
        ? { kind: 'absent', rejected }
        : missing.length === wishesOf(candidate).length
          ? { kind: 'missing', missing }
          : { kind: 'taken', rejected },
    );
  };

  for (const candidate of winners) if (wishesOf(candidate).length === 1) settle(candidate, false);
  for (const candidate of winners) if (wishesOf(candidate).length > 1) settle(candidate, true);
  return result;
}
