import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardPlace } from './apply-input.ts';
import { goThrough } from './carry-out.ts';
import { failureFinding } from './failure-finding.ts';
import { takeLock } from './lock.ts';
import { Store } from './store.ts';
import { realRoots } from './survey.ts';
import { takeBack } from './take-back.ts';
import type { Turn } from './turn.ts';

export type Recovered =
  | { readonly kind: 'nothing' }
  /** `changed`: files that were changed since by someone else, and stay as they are. */
  | {
      readonly kind: 'all-old' | 'all-new';
      readonly act: Turn['act']['kind'];
      readonly number: number;
      readonly changed: readonly CardPath[];
    }
  | { readonly kind: 'locked' }
  | { readonly kind: 'failed'; readonly why: string; readonly command: string };

/**
 * Puts right what a killed write or undo left: all old, or all new where it had come far enough. To be called before a
 * card is read for a plan. Does nothing, and writes nothing, where nothing is under way.
 */
export function recover(place: CardPlace): Outcome<Recovered> {
  const store = new Store(place.disk, place.store);
  if (store.underWay() === undefined) return { value: { kind: 'nothing' }, findings: [] };
  const lock = takeLock(place);
  if (lock.kind === 'taken') return { value: { kind: 'locked' }, findings: [lock.finding] };
  if (lock.kind === 'failed') return stopped(lock, 'workspace', place);
  const { value, findings } = recoverLocked(place, store);
  place.disk.remove(lock.lock);
  return { value, findings: [...lock.findings, ...findings] };
}

function stopped(failed: DiskFailure, where: 'card' | 'workspace', { commands }: CardPlace): Outcome<Recovered> {
  return {
    value: { kind: 'failed', why: failed.why, command: commands.undo },
    findings: [failureFinding(failed, where, 'recover-needed', commands.undo)],
  };
}

/** The same, where the lock is ours already. */
export function recoverLocked(place: CardPlace, store: Store): Outcome<Recovered> {
  const left = store.underWay();
  if (left === undefined) return { value: { kind: 'nothing' }, findings: [] };
  const turn = store.turn(left.number, left.state);
  if (turn === undefined)
    return stopped({ kind: 'failed', trouble: 'failed', why: 'its journal is damaged' }, 'workspace', place);
  const parts = [...turn.files, ...turn.makes, ...turn.drops].map(({ part }) => part);
  const found = realRoots(place.disk, place.parts, parts);
  if (found.kind === 'failed') return stopped(found, 'card', place);
  const absent = parts.find((part) => !found.roots.has(part));
  if (absent !== undefined)
    return stopped({ kind: 'failed', trouble: 'absent', why: `its part '${absent}' is not there` }, 'card', place);
  const ground = { disk: place.disk, store, roots: found.roots };
  const act = turn.act.kind;
  const { number } = turn;
  if (left.state === 'kept') {
    const failed = goThrough(ground, turn, place.record);
    if (failed !== undefined) return stopped(failed, 'workspace', place);
    return {
      value: { kind: 'all-new', act, number, changed: [] },
      findings: [mended(`The ${act} of ${turn.stamp} had been done on the card and is complete now.`)],
    };
  }
  const back = takeBack(ground, turn, place.record);
  if (back.kind === 'failed') return stopped(back, 'card', place);
  return {
    value: { kind: 'all-old', act, number, changed: back.changed },
    findings: [
      mended(`The ${act} of ${turn.stamp} stopped half way; the card is as it was before it.`),
      ...changedSince(back.changed, place.commands.write),
    ],
  };
}

function mended(detail: string): Finding {
  return makeFinding('write-mended', { detail, wayOut: 'Nothing is to be done.' });
}

/** Files that are neither as they were nor as we wrote them. */
export function changedSince(paths: readonly CardPath[], command: string): readonly Finding[] {
  return paths.map((path) =>
    makeFinding('hand-change-stays', {
      detail: `${path} was changed after the write that stopped half way. It stays as it is now.`,
      wayOut: `Look at what would be changed in it now:\n\n    ${command} --dry-run`,
    }),
  );
}
