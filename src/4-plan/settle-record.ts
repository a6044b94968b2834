import type { CardPath } from '../model/paths.ts';
import type { Held, RecordedFile, RecordedKey, RecordedWhole } from '../model/record.ts';
import { hashedText } from './held.ts';
import { spellOut } from './spell-out.ts';
import type { FindSecret } from './spell-out.ts';

/** What a plan's record is settled with, once the plan is carried out. */
export interface Settling {
  readonly find: FindSecret;
  /** Hash by the private key of the workspace that keeps the record. */
  readonly keyed: (text: string) => string;
  /** The text that a file has now; asked only of files that are wholly ours, and hold what the profile says. */
  writtenTo(path: CardPath): string | undefined;
  /** A text of the backup store by its plain hash. */
  readonly keptText: (hash: string) => string | undefined;
}

/** The files of a plan's record as they are to be kept: values that name secrets become hashes. Throws where one is missing. */
export function settleRecord(files: readonly RecordedFile[], settling: Settling): readonly RecordedFile[] {
  return files.map((file) => {
    // One that was left as somebody changed it keeps the hash of what we wrote last.
    const unsettled = file.whole?.written.hash === '';
    const text = unsettled ? settling.writtenTo(file.path) : undefined;
    if (unsettled && text === undefined)
      throw new Error('A record is settled before its files are written. This is a bug in thumbwright.');
    return {
      ...file,
      keys: file.keys.map((key) => settleKey(key, settling)),
      whole:
        file.whole === undefined
          ? undefined
          : {
              ...file.whole,
              before: settleBefore(file.whole.before, settling),
              ...(text === undefined ? {} : { written: { keyed: true, hash: settling.keyed(text) } }),
            },
    };
  });
}

/** Older versions kept plain hashes; one whose text is lost stays, since nothing tells its keyed one. */
function settleBefore(before: RecordedWhole['before'], { keyed, keptText }: Settling): RecordedWhole['before'] {
  const text = before === undefined || before.keyed ? undefined : keptText(before.hash);
  return text === undefined ? before : { keyed: true, hash: keyed(text) };
}

function settleKey(key: RecordedKey, settling: Settling): RecordedKey {
  const { answer } = key;
  return {
    ...key,
    before: settleHeld(key.before, settling),
    written: settleHeld(key.written, settling),
    ...(key.kept === undefined ? {} : { kept: settleHeld(key.kept, settling) }),
    ...(answer?.kind === 'keep-card'
      ? {
          answer: {
            ...answer,
            card: settleHeld(answer.card, settling),
            profile: settleHeld(answer.profile, settling),
          },
        }
      : {}),
  };
}

function settleHeld(held: Held, { find, keyed }: Settling): Held {
  if (held.kind !== 'to-hash') return held;
  const value = spellOut(held.value, held.secrets, find);
  if (value === undefined)
    throw new Error('A record is settled before its secrets are known. This is a bug in thumbwright.');
  return { kind: 'hashed', hash: keyed(hashedText(value)) };
}
