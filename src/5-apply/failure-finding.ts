import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';

/** In which state a failure left the card. */
export type State =
  /** As it was before; the command can be run again once the cause is gone. */
  | 'all-old'
  /** Some files may be old and some new, and all that is needed to mend it is kept. */
  | 'recover-needed'
  /** All files are new; only the last of the bookkeeping is missing. */
  | 'all-new';

const states: Readonly<Record<State, string>> = {
  'all-old': 'Every file on the card is as it was before.',
  'recover-needed':
    'Some files on the card may be new and some old. All that is needed to bring them back is kept beside the profile.',
  'all-new':
    'Every file on the card is new and read back right; only the last note of it is missing beside the profile.',
};

const causes: Readonly<Partial<Record<DiskFailure['trouble'], string>>> = {
  'no-space': 'Make room on it',
  'read-only': 'Let it be written: slide the lock of its adapter, or mount it for writing',
  denied: 'Give yourself the right to write there',
  absent: 'Put it in again, at the same place',
  failed: 'Put it in again, at the same place; check the file system if this comes back',
};

/** What failed, in which state it left things, and the command that goes on from there. */
export function failureFinding(
  failed: DiskFailure,
  where: 'card' | 'workspace',
  state: State,
  command: string,
): Finding {
  const code =
    where === 'workspace'
      ? 'workspace-failed'
      : failed.trouble === 'no-space'
        ? 'not-enough-room'
        : failed.trouble === 'read-only'
          ? 'card-read-only'
          : 'card-failed';
  const what = where === 'card' ? 'the card' : 'the folder of the profile';
  return makeFinding(code, {
    detail: `Writing stopped: ${failed.why} (${what}). ${states[state]}`,
    wayOut: `${causes[failed.trouble] ?? 'Mend the cause'}, then run:\n\n    ${command}`,
  });
}
