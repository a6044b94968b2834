import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardPlace } from './apply-input.ts';
import { carryOut, goThrough, prepare } from './carry-out.ts';
import type { Ground } from './carry-out.ts';
import { forecastRoom, noRoom } from './check-room.ts';
import { failureFinding } from './failure-finding.ts';
import type { State } from './failure-finding.ts';
import { changedSince } from './recover.ts';
import { sha256 } from './steps.ts';
import type { Change } from './survey.ts';
import { takeBack } from './take-back.ts';
import { temporaryNames } from './temporary-names.ts';
import type { Turn, TurnFolder } from './turn.ts';

/** What a turn is to do; its number is given by the store. */
export interface Wanted {
  readonly act: Turn['act'];
  readonly changes: readonly Change[];
  readonly makes: readonly TurnFolder[];
  readonly drops: readonly TurnFolder[];
  readonly record: { readonly before: Uint8Array | null; readonly after: Uint8Array | null };
}

export type Ran =
  | { readonly kind: 'done'; readonly number: number; readonly findings: readonly Finding[] }
  | {
      readonly kind: 'failed';
      readonly why: string;
      readonly state: State;
      readonly command: string;
      readonly findings: readonly Finding[];
    };

function hashOf(bytes: Uint8Array | null): string | null {
  return bytes === null ? null : sha256(bytes);
}

/** One write or undo from end to end; the lock is held. What fails on the way is taken back at once. */
export function runTurn(place: CardPlace, ground: Ground, wanted: Wanted): Ran {
  const { disk, store } = ground;
  const { changes, record } = wanted;
  const names = temporaryNames(disk, ground.roots, changes);
  const room = forecastRoom(disk, ground.roots, wanted, names);
  if (room.kind === 'failed') return failed(place, room, 'card', 'all-old');
  const command = place.commands[wanted.act.kind];
  const tooFull = noRoom(room.volumes, command);
  if (tooFull.length > 0)
    return { kind: 'failed', why: 'there is not enough room', state: 'all-old', command, findings: tooFull };
  const turn: Turn = {
    format: 1,
    number: (store.numbers().at(-1) ?? 0) + 1,
    act: wanted.act,
    stamp: place.stamp,
    files: changes.map(({ path, part, at, before, after, had, gets, keys }, index) => ({
      path,
      part,
      at,
      temporary: names[index] ?? '',
      before: hashOf(before),
      after: hashOf(after),
      had,
      gets,
      ...(keys === undefined ? {} : { keys }),
    })),
    makes: wanted.makes,
    drops: wanted.drops,
    record: { before: hashOf(record.before), after: hashOf(record.after) },
  };
  const texts = [...changes.map(({ before }) => before), record.before, record.after].filter((text) => text !== null);
  const contents = new Map<CardPath, Uint8Array>();
  for (const { path, after } of changes) if (after !== null) contents.set(path, after);

  const unprepared = prepare(ground, turn, texts);
  if (unprepared !== undefined) return back(place, ground, turn, unprepared, 'workspace');
  const carried = carryOut(ground, turn, contents);
  if (carried.kind === 'failed') return back(place, ground, turn, carried, 'card');
  const unkept = store.keep(turn.number);
  if (unkept.kind === 'failed') {
    // The rename may stand though it could not be flushed: then the turn counts.
    const state = store.underWay()?.state;
    if (state === 'begun') return back(place, ground, turn, unkept, 'workspace');
    return failed(place, unkept, 'workspace', 'all-new');
  }
  const unfinished = goThrough(ground, turn, place.record);
  if (unfinished !== undefined) return failed(place, unfinished, 'workspace', 'all-new');
  return {
    kind: 'done',
    number: turn.number,
    findings: carried.notKept.map((path) =>
      makeFinding('not-kept-mode', {
        detail: `${path} was written, but its file system gave it another owner or mode than was asked for: others on the device may read it.`,
        wayOut: 'Put it on a part with a file system that keeps owners, or write the card as root.',
      }),
    ),
  };
}

function back(place: CardPlace, ground: Ground, turn: Turn, cause: DiskFailure, where: 'card' | 'workspace'): Ran {
  if (ground.store.underWay() === undefined && where === 'workspace') return failed(place, cause, where, 'all-old');
  const taken = takeBack(ground, turn, place.record);
  if (taken.kind === 'failed') return failed(place, cause, where, 'recover-needed');
  const ran = failed(place, cause, where, 'all-old');
  return { ...ran, findings: [...ran.findings, ...changedSince(taken.changed, place.commands.write)] };
}

function failed(place: CardPlace, cause: DiskFailure, where: 'card' | 'workspace', state: State): Ran {
  const command = state === 'recover-needed' ? place.commands.undo : place.commands.write;
  return {
    kind: 'failed',
    why: cause.why,
    state,
    command,
    findings: [failureFinding(cause, where, state, command)],
  };
}
