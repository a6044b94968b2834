import type { Outcome } from '../diagnostics/finding.ts';
import type { Fingerprint } from '../model/fingerprint.ts';
import type { KeyText, WholeFile } from '../model/compiled.ts';
import type { PlannedFile, PlannedKey, Shown } from '../model/plan.ts';
import type { Answer, Held, RecordedFile, RecordedWhole } from '../model/record.ts';
import type { SourceText } from '../text/source-text.ts';
import { classifyKey } from './classify-key.ts';
import type { Fate } from './classify-key.ts';
import { classifyLetGo } from './classify-let-go.ts';
import { evidenceOf } from './evidence.ts';
import type { FileTask } from './file-task.ts';
import { hashedText } from './held.ts';
import { shownOrigin } from './key-merging.ts';
import { fingerprint } from './merge-file.ts';
import type { MergedFile } from './merge-file.ts';
import type { MergeInput } from './merge-keys.ts';
import { piecesOf } from './pieces-of.ts';
import { spellPieces } from './spell-pieces.ts';
import { keyId } from './subject.ts';

const nothing: Shown = { kind: 'absent' };

/** A file that is wholly ours, made from a template: merged as if it were one key. */
export function mergeWhole(
  input: MergeInput,
  task: FileTask,
  file: WholeFile,
  source: SourceText | undefined,
): Outcome<MergedFile> {
  const { hash, secrets } = input;
  const { path } = task;
  const old = task.recorded?.whole;
  const names = secrets.namesInFile(file);
  const pieces = piecesOf(input.compiled, file);
  const text = spellPieces(pieces, secrets.find, input.syntaxes);
  const card = source?.text;
  const stock = input.stock(path);
  const stockHash = stock === undefined ? undefined : hash.plain(stock.text);
  const isWritten = (now: string | undefined): boolean =>
    now !== undefined && old !== undefined && wrote(input, old, now);
  const fate = classifyKey({
    recorded: old === undefined ? 'no' : 'here',
    fileThere: card !== undefined,
    keyThere: card !== undefined,
    cardIsProfile: card !== undefined && card === text,
    cardIsWritten: isWritten(card),
    cardIsStock:
      stock !== undefined
        ? card === stock.text
        : card === undefined
          ? old?.before === undefined
          : isText(input, old?.before, card),
    profileIsWritten: text === undefined || isWritten(text),
    profileKnown: text !== undefined,
    volatile: false,
    // A frontend that swaps a password for something of its own does so in its own files, not in one that is wholly ours.
    secret: false,
    evidence: evidenceOf({
      versionThen: input.record?.instances.get(file.instance)?.version,
      versionNow: input.versions.get(file.instance),
      stockThen: task.recorded?.stock,
      stockNow: stockHash,
      backAtStock: [],
    }),
    remembered: remembered(input, old?.answer, card, text),
    said: input.answers.get(keyId({ path, key: '' })),
    takeProfile: input.takeProfile,
  });
  const hidden = names.length > 0 || old?.written.keyed === true;
  const key: PlannedKey = {
    ...wholeKey(file, fate, card),
    from: card === undefined ? nothing : hidden ? { kind: 'secret', names: card === text ? names : [] } : shown(card),
    to: names.length > 0 ? { kind: 'secret', names } : shown(file.text),
    origin: shownOrigin(file.origin),
  };
  const about = {
    path,
    instances: [file.instance],
    // What somebody else made may hold passwords of theirs.
    before: card === undefined ? undefined : fingerprint(input, card, hidden || !isWritten(card)),
    keys: [key],
  };
  const planned: PlannedFile =
    fate.act !== 'write'
      ? { ...about, act: 'nothing' }
      : {
          ...about,
          act: 'whole',
          pieces,
          mode: file.mode,
          owner: file.owner,
          bytes: { before: Buffer.byteLength(card ?? ''), after: Buffer.byteLength(text ?? file.text) },
        };
  const ours = fate.act === 'write' || fate.class === 'same';
  const beforeUs = old !== undefined ? old.before : card === undefined ? undefined : fingerprint(input, card, true);
  const now = text ?? file.text;
  const answer: Answer | undefined =
    fate.remember === 'keep-card' && card !== undefined
      ? { kind: 'keep-card', card: hashedHeld(input, card), profile: hashedHeld(input, now) }
      : fate.remember === 'let-alone'
        ? { kind: 'let-alone' }
        : undefined;
  const record: RecordedFile = {
    path,
    syntax: 'template',
    style: undefined,
    stock: stockHash,
    keys: [],
    whole: {
      instance: file.instance,
      file: file.file,
      setting: file.setting,
      before: beforeUs,
      written: ours
        ? writtenHash(input, names.length > 0, now)
        : (old?.written ?? fingerprint(input, card ?? now, true)),
      ...(answer === undefined ? {} : { answer }),
    },
  };
  return { value: { planned, record }, findings: [] };
}

/** A file that was wholly ours, and that the profile does not make any more. */
export function letGoWhole(
  input: MergeInput,
  { path }: FileTask,
  old: RecordedWhole,
  source: SourceText | undefined,
): Outcome<MergedFile> {
  const card = source?.text;
  const fate = classifyLetGo({
    fileThere: card !== undefined,
    keyThere: card !== undefined,
    cardIsWritten: card !== undefined && wrote(input, old, card),
    cardIsBefore: card !== undefined && isText(input, old.before, card),
    beforeLost: false,
    moved: false,
    letAlone: old.answer?.kind === 'let-alone',
    said: input.answers.get(keyId({ path, key: '' })),
  });
  const hidden = old.written.keyed;
  const about = {
    path,
    instances: [old.instance],
    before: card === undefined ? undefined : fingerprint(input, card, hidden || !wrote(input, old, card)),
    keys: [
      {
        ...wholeKey(old, fate, card),
        from: card === undefined ? nothing : hidden ? ({ kind: 'secret', names: [] } as const) : shown(card),
        to: nothing,
      },
    ],
  };
  const planned: PlannedFile =
    fate.act !== 'write'
      ? { ...about, act: 'nothing' }
      : old.before === undefined
        ? { ...about, act: 'remove' }
        : { ...about, act: 'restore', backup: old.before };
  return { value: { planned, record: undefined }, findings: [] };
}

/** A text with secrets is hashed when the plan is carried out, by the key of the workspace that does it. */
function writtenHash({ hash }: MergeInput, keyed: boolean, text: string): RecordedWhole['written'] {
  return { keyed, hash: keyed ? '' : hash.plain(text) };
}

function wrote(input: MergeInput, { written }: RecordedWhole, text: string): boolean {
  return isText(input, written, text);
}

function isText({ hash }: MergeInput, known: Fingerprint | undefined, text: string): boolean {
  return known !== undefined && known.hash === (known.keyed ? hash.keyed(text) : hash.plain(text));
}

function shown(text: string): Shown {
  return { kind: 'text', value: { kind: 'scalar', text } };
}

function wholeKey(
  { instance, file, setting }: { readonly instance: string; readonly file: string; readonly setting: string },
  fate: Fate,
  card: string | undefined,
): Omit<PlannedKey, 'from' | 'to'> {
  return {
    class: fate.class,
    act: fate.act,
    instance,
    file,
    key: '',
    setting,
    scope: {},
    why: fate.why,
    ...(card === undefined ? {} : { cardLine: 1 }),
  };
}

/** Never the text itself: the record holds no full texts. */
function hashedHeld({ hash }: MergeInput, text: string): Held {
  const value: KeyText = { kind: 'scalar', text };
  return { kind: 'hashed', hash: hash.keyed(hashedText(value)) };
}

function remembered(
  input: MergeInput,
  answer: Answer | undefined,
  card: string | undefined,
  text: string | undefined,
): 'keep-card' | 'let-alone' | undefined {
  if (answer?.kind !== 'keep-card') return answer?.kind;
  const is = (held: Held, now: string): boolean => {
    const hashed = hashedHeld(input, now);
    return held.kind === 'hashed' && hashed.kind === 'hashed' && held.hash === hashed.hash;
  };
  return card !== undefined && is(answer.card, card) && (text === undefined || is(answer.profile, text))
    ? 'keep-card'
    : undefined;
}
