import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';
import type { CardPath } from '../model/paths.ts';
import type { ApplyInput } from './apply-input.ts';
import { failureFinding } from './failure-finding.ts';
import type { State } from './failure-finding.ts';
import { takeLock } from './lock.ts';
import { recoverLocked } from './recover.ts';
import { runTurn } from './run-turn.ts';
import { contentAt } from './steps.ts';
import { Store } from './store.ts';
import { survey } from './survey.ts';
import type { Refusal, Survey } from './survey.ts';

export type Applied =
  /** All is as the plan wants it: nothing was written, not even a time. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'done'; readonly number: number; readonly files: readonly CardPath[] }
  /** Nothing was written: these files are not as the plan saw them, or cannot be reached safely. */
  | { readonly kind: 'refused'; readonly files: readonly CardPath[] }
  | { readonly kind: 'locked' }
  | { readonly kind: 'failed'; readonly why: string; readonly state: State; readonly command: string };

/**
 * Does what a plan says to a card, all or nothing: decides nothing, and refuses a plan that the card has moved on from.
 * A write that was killed earlier is put right first.
 */
export function apply(input: ApplyInput): Outcome<Applied> {
  const store = new Store(input.disk, input.store);
  if (store.underWay() === undefined) {
    const early = look(input);
    if (early.kind === 'stopped') return early.outcome;
    if (early.survey.changes.length === 0 && sameText(early.record, input)) return nothing();
  }
  const lock = takeLock(input);
  if (lock.kind === 'taken') return { value: { kind: 'locked' }, findings: [lock.finding] };
  if (lock.kind === 'failed') return stopped(lock, 'workspace', input);
  const { value, findings } = locked(input, store);
  input.disk.remove(lock.lock);
  return { value, findings: [...lock.findings, ...findings] };
}

function locked(input: ApplyInput, store: Store): Outcome<Applied> {
  const mended = recoverLocked(input, store);
  if (mended.value.kind === 'failed') {
    const { why, command } = mended.value;
    return { value: { kind: 'failed', why, state: 'recover-needed', command }, findings: mended.findings };
  }
  const now = look(input);
  if (now.kind === 'stopped')
    return { value: now.outcome.value, findings: [...mended.findings, ...now.outcome.findings] };
  const { changes, makes, roots } = now.survey;
  if (changes.length === 0 && sameText(now.record, input)) return { ...nothing(), findings: mended.findings };
  const ran = runTurn(
    input,
    { disk: input.disk, store, roots },
    {
      act: { kind: 'write' },
      changes,
      makes,
      drops: [],
      record: { before: now.record, after: Buffer.from(input.recordText, 'utf8') },
    },
  );
  const findings = [...mended.findings, ...ran.findings];
  if (ran.kind === 'failed')
    return { value: { kind: 'failed', why: ran.why, state: ran.state, command: ran.command }, findings };
  store.prune((bytes) => (input.needed ?? []).some(({ keyed, hash }) => input.fingerprint(bytes, keyed) === hash));
  return { value: { kind: 'done', number: ran.number, files: changes.map(({ path }) => path) }, findings };
}

function nothing(): Outcome<Applied> {
  return { value: { kind: 'nothing' }, findings: [] };
}

function sameText(record: Uint8Array | null, { recordText }: ApplyInput): boolean {
  return record !== null && Buffer.compare(record, Buffer.from(recordText, 'utf8')) === 0;
}

function stopped(cause: DiskFailure, where: 'card' | 'workspace', { commands }: ApplyInput): Outcome<Applied> {
  return {
    value: { kind: 'failed', why: cause.why, state: 'all-old', command: commands.write },
    findings: [failureFinding(cause, where, 'all-old', commands.write)],
  };
}

/** What speaks against doing the works of a plan now: files that are not as it saw them, or cannot be reached. Only reads. */
export function refusalsOf(
  input: Pick<ApplyInput, 'disk' | 'parts' | 'works' | 'fingerprint' | 'commands'>,
): readonly Finding[] {
  const found = survey(input);
  return found.kind === 'failed'
    ? [failureFinding(found, 'card', 'all-old', input.commands.write)]
    : found.survey.refusals.map((refusal) => refused(refusal, input.commands.write));
}

type Look =
  | { readonly kind: 'seen'; readonly survey: Survey; readonly record: Uint8Array | null }
  | { readonly kind: 'stopped'; readonly outcome: Outcome<Applied> };

/** The card and the record as they are now; only reads. */
function look(input: ApplyInput): Look {
  const found = survey(input);
  if (found.kind === 'failed') return { kind: 'stopped', outcome: stopped(found, 'card', input) };
  const { refusals } = found.survey;
  if (refusals.length > 0)
    return {
      kind: 'stopped',
      outcome: {
        value: { kind: 'refused', files: refusals.map(({ path }) => path) },
        findings: refusals.map((refusal) => refused(refusal, input.commands.write)),
      },
    };
  const record = contentAt(input.disk, input.record);
  if (record.kind === 'failed') return { kind: 'stopped', outcome: stopped(record, 'workspace', input) };
  return { kind: 'seen', survey: found.survey, record: record.bytes };
}

function refused({ path, why }: Refusal, command: string): Finding {
  switch (why) {
    case 'leaves':
      return makeFinding('link-leaves-part', {
        detail: `On the way to ${path} stands a link that leads out of its part, or nowhere. A write through it would reach files that are not the card's.`,
        wayOut: 'Replace the link on the card by what it is meant to lead to, or let it lead into the part.',
      });
    case 'twice':
      return makeFinding('link-joins-files', {
        detail: `${path} and another file of the plan are one file on this card, through a link. They would overwrite each other.`,
        wayOut: 'Take one of the two out of the profile, or the link off the card.',
      });
    case 'blocked':
      return makeFinding('card-changed-since', {
        detail: `At ${path} stands something that is no file, or a file stands where its folder is to be.`,
        wayOut: `Move it away, then make the plan anew:\n\n    ${command}`,
      });
    case 'no-part':
      return makeFinding('card-failed', {
        detail: `The part of ${path} was not named, so the file cannot be reached. Nothing was written.`,
        wayOut: 'Name the folder of each part, as in --card games=FOLDER --card settings=FOLDER.',
      });
    case 'changed':
      return makeFinding('card-changed-since', {
        detail: `${path} is no longer as it was when the plan was made. Writing over it could lose what was changed since, so nothing was written.`,
        wayOut: `Make the plan anew:\n\n    ${command}`,
      });
  }
}
