import type { Parting, PartingStage } from '../../model/parting.ts';
import type { Place } from '../../text/place.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { positionsOf } from '../express.ts';
import { evened, lineOf } from './seen.ts';
import type { Seen } from './seen.ts';

/** A wish that was had: which of its line, and where it is written. */
interface Had {
  readonly index: number;
  readonly place: Place;
}

/** The wish that was had; undefined: none of them, or the line is no list of wishes. */
export function hadWish({ account, top }: Seen): Had | undefined {
  const wish = top?.candidate.wish;
  if (wish === undefined || account.decision === undefined) return undefined;
  if (wish.kind === 'controls') return wish.wishes[0];
  if (wish.kind !== 'binds' && wish.kind !== 'cores') return undefined;
  const passed = new Set(account.rejected.map(({ place }) => place));
  const all = wish.wishes.map(({ place }, index): Had => ({ index, place }));
  return all.find(({ place }) => !passed.has(place));
}

function pressed({ value }: Seen): readonly Position[] {
  return value.kind === 'value' ? positionsOf(value.value) : [];
}

/** Why lines that say the same, or one line that has the say on both sides, come to another value on each. */
export function partFit(a: Seen, b: Seen, holds: Readonly<Record<'a' | 'b', Position | undefined>>): Parting {
  const stage: PartingStage = a.top?.candidate.wish.kind === 'cores' ? 'cores' : 'controls';
  const begin = beginning(a, b);
  const [hadA, hadB] = [hadWish(a), hadWish(b)];
  const says = (sentence: string): Parting => ({ stage, says: sentence });
  if (hadA?.index !== hadB?.index) {
    const [lucky, other] = (hadA?.index ?? Infinity) < (hadB?.index ?? Infinity) ? [a, b] : [b, a];
    return says(`${begin}. ${passedOver(lucky, other)}`);
  }
  const [shownA, shownB] = [a, b].map(({ value }) => (value.kind === 'left-alone' ? 'nothing' : value.text));
  const [atA, atB] = [pressed(a), pressed(b)];
  if (hadA !== undefined && atA.length > 0 && JSON.stringify(atA) !== JSON.stringify(atB)) {
    return says(
      `${begin}, and names a control by its label: ${written(hadA.place)} is ${atA.join(' with ')} on ${a.device}, and ${atB.join(' with ')} on ${b.device}.`,
    );
  }
  if (atA.length > 0 && holds.a !== holds.b)
    return says(
      `${begin}, and the chord is the same; but the hold control is ${holds.a ?? 'none'} for ${a.shown}, and ${holds.b ?? 'none'} for ${b.shown}.`,
    );
  return says(`${begin}, and comes to ${shownA ?? ''} for ${a.shown}, and to ${shownB ?? ''} for ${b.shown}.`);
}

/** One line, or two that say the same. */
function beginning({ top: one }: Seen, { top: other }: Seen): string {
  const lines = [one, other].flatMap((top) => (top === undefined ? [] : [lineOf(top.candidate)]));
  const [first = '', second] = new Set(lines);
  return second === undefined ? `${first} has the say on both` : `${first} and ${second} say the same`;
}

/** The first wish that one side had and the other passed over. */
function passedOver(lucky: Seen, other: Seen): string {
  const had = hadWish(lucky);
  if (had === undefined || other.top === undefined || lucky.value.kind === 'left-alone') return '';
  const { wish } = other.top.candidate;
  const place = wish.kind === 'binds' || wish.kind === 'cores' ? wish.wishes[had.index]?.place : undefined;
  const rejected = other.account.rejected.find((one) => one.place === place);
  const why =
    rejected === undefined
      ? lacking(lucky, other)
      : rejected.why.replace(/^the device does not have it$/, `${other.device} has no ${rejected.what}`);
  return `${lucky.shown} gets its wish ${written(had.place)} (${lucky.value.text}), and ${other.shown} does not: ${why}.`;
}

/** Of wishes for one control, what is missing is known by name alone. */
function lacking(lucky: Seen, other: Seen): string {
  const missing = ({ top }: Seen): readonly string[] =>
    top?.candidate.wish.kind === 'controls' ? top.candidate.wish.missing : [];
  const known = missing(lucky);
  const lacks = missing(other).filter((name) => !known.includes(name));
  return lacks.length === 0 ? 'it cannot be had there' : `${other.device} has no ${lacks.join(' and no ')}`;
}

function written({ source, span }: Place): string {
  return evened(source.text.slice(span.start, span.end));
}
