import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';
import type { CardPath } from '../model/paths.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPlace } from './apply-input.ts';
import { failureFinding } from './failure-finding.ts';
import type { State } from './failure-finding.ts';
import { keysBack } from './keys-back.ts';
import { takeLock } from './lock.ts';
import { recoverLocked } from './recover.ts';
import { resolveInside } from './resolve-inside.ts';
import { runTurn } from './run-turn.ts';
import { contentAt, sha256 } from './steps.ts';
import { Store } from './store.ts';
import { realRoots } from './survey.ts';
import type { Change } from './survey.ts';
import type { Turn, TurnFile } from './turn.ts';

export type Undone =
  /** Nothing is kept that could be taken back. */
  | { readonly kind: 'nothing' }
  | {
      readonly kind: 'done';
      /** Of the write that was taken back. */
      readonly number: number;
      /** When that write was made. */
      readonly stamp: string;
      readonly files: readonly CardPath[];
      /** What was changed by hand after the write, and stays; without a key, the whole file. */
      readonly kept: readonly { readonly path: CardPath; readonly key?: string }[];
    }
  | { readonly kind: 'locked' }
  | { readonly kind: 'failed'; readonly why: string; readonly state: State; readonly command: string };

/**
 * Takes the last write back, and the one before it when called again. A file that is still as we wrote it gets its old
 * bytes; of another only our keys are taken back. A write that stopped half way is taken back instead.
 */
export function undo(place: CardPlace): Outcome<Undone> {
  const store = new Store(place.disk, place.store);
  if (store.underWay() === undefined && lastWrite(store) === undefined) return nothing(place);
  const lock = takeLock(place);
  if (lock.kind === 'taken') return { value: { kind: 'locked' }, findings: [lock.finding] };
  if (lock.kind === 'failed') return stopped(lock, 'workspace', place);
  const { value, findings } = undoLocked(place, store);
  place.disk.remove(lock.lock);
  return { value, findings: [...lock.findings, ...findings] };
}

/** The last write that no undo has taken back yet. */
function lastWrite(store: Store): Turn | undefined {
  const undone = new Set<number>();
  for (const number of [...store.numbers()].reverse()) {
    const turn = store.turn(number);
    // What cannot be read cannot be passed over either: what lies before it is not the last write.
    if (turn === undefined) return undefined;
    if (turn.act.kind === 'undo') undone.add(turn.act.undoes);
    else if (!undone.has(number)) return turn;
  }
  return undefined;
}

function nothing({ commands }: CardPlace): Outcome<Undone> {
  return {
    value: { kind: 'nothing' },
    findings: [
      makeFinding('nothing-to-undo', {
        detail: 'No write to this card is kept that has not been taken back already.',
        wayOut: `Change what is wanted in the profile, then run:\n\n    ${commands.write}`,
      }),
    ],
  };
}

function stopped(cause: DiskFailure, where: 'card' | 'workspace', { commands }: CardPlace): Outcome<Undone> {
  return {
    value: { kind: 'failed', why: cause.why, state: 'all-old', command: commands.undo },
    findings: [failureFinding(cause, where, 'all-old', commands.undo)],
  };
}

function undoLocked(place: CardPlace, store: Store): Outcome<Undone> {
  const { value: mended, findings } = recoverLocked(place, store);
  if (mended.kind === 'failed') {
    const { why, command } = mended;
    return { value: { kind: 'failed', why, state: 'recover-needed', command }, findings };
  }
  // A write taken back from half way, or an undo that was done but for its last note, is what was asked for.
  if (mended.kind === 'all-old' && mended.act === 'write')
    return done(
      mended.number,
      place.stamp,
      [],
      mended.changed.map((path) => ({ path })),
      findings,
    );
  if (mended.kind === 'all-new' && mended.act === 'undo') {
    const { act, stamp, files } = store.turn(mended.number) ?? { act: undefined, stamp: place.stamp, files: [] };
    const number = act?.kind === 'undo' ? act.undoes : mended.number;
    return done(
      number,
      stamp,
      files.map(({ path }) => path),
      [],
      findings,
    );
  }
  const write = lastWrite(store);
  if (write === undefined) {
    const none = nothing(place);
    return { value: none.value, findings: [...findings, ...none.findings] };
  }
  const taken = takeWriteBack(place, store, write);
  return { value: taken.value, findings: [...findings, ...taken.findings] };
}

function done(
  number: number,
  stamp: string,
  files: readonly CardPath[],
  kept: readonly { readonly path: CardPath; readonly key?: string }[],
  findings: readonly Finding[],
): Outcome<Undone> {
  return { value: { kind: 'done', number, stamp, files, kept }, findings };
}

function takeWriteBack(place: CardPlace, store: Store, write: Turn): Outcome<Undone> {
  const { disk } = place;
  const parts = [...write.files, ...write.makes].map(({ part }) => part);
  const found = realRoots(disk, place.parts, parts);
  if (found.kind === 'failed') return stopped(found, 'card', place);
  const absent = parts.find((part) => !found.roots.has(part));
  if (absent !== undefined)
    return stopped({ kind: 'failed', trouble: 'absent', why: `its part '${absent}' is not there` }, 'card', place);
  const ground = { disk, store, roots: found.roots };
  const changes: Change[] = [];
  const kept: { readonly path: CardPath; readonly key?: string }[] = [];
  for (const file of write.files) {
    const back = fileBefore(place, ground, file);
    if (back.kind === 'failed') return stopped(back, back.where, place);
    kept.push(...back.kept);
    if (back.change !== undefined) changes.push(back.change);
  }
  const record = contentAt(disk, place.record);
  if (record.kind === 'failed') return stopped(record, 'workspace', place);
  const before = write.record.before === null ? null : store.text(write.record.before);
  if (before?.kind === 'failed') return stopped(before, 'workspace', place);
  const ran = runTurn(place, ground, {
    act: { kind: 'undo', undoes: write.number },
    changes,
    makes: [],
    drops: [...write.makes].reverse(),
    record: { before: record.bytes, after: before === null ? null : before.bytes },
  });
  const findings = [...kept.map((one) => stays(one, place)), ...ran.findings];
  if (ran.kind === 'failed') {
    const { why, state } = ran;
    return { value: { kind: 'failed', why, state, command: place.commands.undo }, findings };
  }
  return done(
    write.number,
    write.stamp,
    changes.map(({ path }) => path),
    kept,
    findings,
  );
}

function stays({ path, key }: { readonly path: CardPath; readonly key?: string }, { commands }: CardPlace): Finding {
  return makeFinding('hand-change-stays', {
    detail:
      key === undefined
        ? `${path} was changed after the write, and stays as it is.`
        : `'${key}' in ${path} was changed after the write, and stays as it is.`,
    wayOut: `Where the change is not wanted, let the profile say what is, then run:\n\n    ${commands.write} --take-profile`,
  });
}

type Before =
  | {
      readonly kind: 'before';
      readonly change: Change | undefined;
      readonly kept: readonly { readonly path: CardPath; readonly key?: string }[];
    }
  | (DiskFailure & { readonly where: 'card' | 'workspace' });

/** What a file is to become so that the write is out of it. */
function fileBefore(
  { disk }: CardPlace,
  { store, roots }: { readonly store: Store; readonly roots: ReadonlyMap<string, CardPlace['store']> },
  file: TurnFile,
): Before {
  const { path, part } = file;
  const whole: Before = { kind: 'before', change: undefined, kept: [{ path }] };
  const root = roots.get(part);
  if (root === undefined) return whole;
  const inside = resolveInside(disk, root, splitCardPath(path).path);
  if (inside.kind === 'failed') return { ...inside, where: 'card' };
  // A link that leads elsewhere by now: what it leads to was never ours.
  if (inside.kind !== 'inside' || inside.at !== file.at) return whole;
  const content = contentAt(disk, disk.join(root, file.at));
  if (content.kind === 'failed') return { ...content, where: 'card' };
  const now = content.bytes;
  const hash = now === null ? null : sha256(now);
  if (hash === file.before) return { kind: 'before', change: undefined, kept: [] };
  const change = (after: Uint8Array | null): Change => {
    const { entry } = inside;
    const had = entry === undefined ? {} : { mode: entry.mode, uid: entry.uid, gid: entry.gid };
    return { path, part, at: file.at, before: now, after, had, gets: file.had };
  };
  if (hash === file.after) {
    if (file.before === null) return { kind: 'before', change: change(null), kept: [] };
    const old = store.text(file.before);
    if (old.kind === 'failed') return { ...old, where: 'workspace' };
    return { kind: 'before', change: change(old.bytes), kept: [] };
  }
  if (now === null || file.keys === undefined) return whole;
  const back = keysBack(now, path, file.keys);
  if (back === undefined) return whole;
  const kept = back.kept.map((key) => ({ path, key }));
  const same = Buffer.compare(back.bytes, now) === 0;
  return { kind: 'before', change: same ? undefined : { ...change(back.bytes), gets: change(null).had }, kept };
}
