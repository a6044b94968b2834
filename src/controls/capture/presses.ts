import { eventTypes } from './event-records.ts';
import type { InputEvent } from './capture.ts';

/** One thing that an input sent: a key that went down, an axis that left its rest to one side, a switch that changed. */
export interface Sent {
  readonly event: string;
  readonly kind: 'key' | 'axis' | 'switch';
  readonly number: number;
  readonly side: '+' | '-' | undefined;
}

/** One press of one control: all that was sent together, the first first. */
export interface PressGroup {
  readonly sent: readonly Sent[];
  readonly at: number;
}

interface Stroke extends Sent {
  readonly from: number;
  to: number;
}

/** A second contact within this time is a bounce of the first (milliseconds). */
const bounce = 120;
/** What begins within this time of a press, while it lasts, is sent by the same control: a trigger's key after its axis. */
const together = 250;
/** An axis that never moves further than this is noise of a control that nobody touched. */
const noise = 16;

/** Events of all inputs, made into presses in the order of time. Auto-repeat and bounces are no presses of their own. */
export function findPresses(events: readonly InputEvent[]): readonly PressGroup[] {
  const byInput = new Map<string, InputEvent[]>();
  for (const event of events) {
    const key = `${event.event} ${event.type} ${event.code}`;
    const known = byInput.get(key);
    if (known === undefined) byInput.set(key, [event]);
    else known.push(event);
  }
  const strokes = [...byInput.values()].flatMap(strokesOf).sort((a, b) => a.from - b.from);
  const groups: { sent: Sent[]; at: number; until: number }[] = [];
  for (const { event, kind, number, side, from, to } of strokes) {
    const sent = { event, kind, number, side };
    const last = groups.at(-1);
    const again = last?.sent.some((one) => sameSent(one, sent)) === true;
    if (last !== undefined && (again || (from - last.at <= together && from <= last.until))) {
      if (!again) last.sent.push(sent);
      last.until = Math.max(last.until, to);
    } else groups.push({ sent: [sent], at: from, until: to });
  }
  return groups.map(({ sent, at }) => ({ sent, at }));
}

export function sameSent(a: Sent, b: Sent): boolean {
  return a.event === b.event && a.kind === b.kind && a.number === b.number && a.side === b.side;
}

function strokesOf(events: readonly InputEvent[]): readonly Stroke[] {
  const [first] = events;
  if (first === undefined) return [];
  if (first.type === eventTypes.axis) return axisStrokes(events);
  if (first.type !== eventTypes.key && first.type !== eventTypes.switch) return [];
  const kind = first.type === eventTypes.key ? 'key' : 'switch';
  const levels = events
    .filter(({ value }) => value === 0 || value === 1)
    .map(({ at, value }) => ({ at, side: value === 1 ? ('+' as const) : undefined }));
  return merge(levels, { event: first.event, kind, number: first.code }).map((stroke) => ({
    ...stroke,
    side: undefined,
  }));
}

function axisStrokes(events: readonly InputEvent[]): readonly Stroke[] {
  const [first] = events;
  const last = events.at(-1);
  if (first === undefined || last === undefined) return [];
  const hat = events.every(({ value }) => value >= -1 && value <= 1);
  // Released at the end of the test, an axis is where it rests.
  const rest = hat ? 0 : last.value;
  const furthest = Math.max(...events.map(({ value }) => Math.abs(value - rest)));
  if (!hat && furthest < noise) return [];
  let side: '+' | '-' | undefined;
  const levels = events.map(({ at, value }) => {
    const away = value - rest;
    // Beyond half of its way an axis is pushed, until it is back within a quarter.
    if (Math.abs(away) * 2 > furthest) side = away < 0 ? '-' : '+';
    else if (Math.abs(away) * 4 < furthest || (side === '-') !== away < 0) side = undefined;
    return { at, side };
  });
  return merge(levels, { event: first.event, kind: 'axis', number: first.code });
}

/** Levels over time made into strokes; a gap shorter than a bounce does not end one. */
function merge(
  levels: readonly { readonly at: number; readonly side: '+' | '-' | undefined }[],
  of: Omit<Sent, 'side'>,
): Stroke[] {
  const strokes: Stroke[] = [];
  let open: Stroke | undefined;
  for (const { at, side } of levels) {
    if (open !== undefined && open.side !== side) {
      open.to = at;
      open = undefined;
    }
    if (side === undefined || open !== undefined) continue;
    const before = strokes.at(-1);
    if (before !== undefined && before.side === side && at - before.to <= bounce) {
      before.to = Infinity;
      open = before;
    } else {
      open = { ...of, side, from: at, to: Infinity };
      strokes.push(open);
    }
  }
  return strokes;
}
