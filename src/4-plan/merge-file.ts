import type { FileWritten } from '../vocabulary/shapes/dialect.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Fingerprint } from '../model/fingerprint.ts';
import type { PlannedChange, PlannedFile, PlannedKey } from '../model/plan.ts';
import type { RecordedFile, RecordedKey } from '../model/record.ts';
import type { Style, Syntax } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';
import { styleOf } from '../dialect/style-of.ts';
import { modeOf, withOrigin } from './build-files.ts';
import { changeText } from './change-text.ts';
import type { FileTask } from './file-task.ts';
import { KeyMerging } from './key-merging.ts';
import { isOursAlone } from './is-ours-alone.ts';
import type { MergeInput } from './merge-keys.ts';
import { letGoWhole, mergeWhole } from './merge-whole.ts';
import { readKeys } from './read-keys.ts';
import { placeIn } from './subject.ts';

export interface MergedFile {
  /** Undefined: nothing can be planned, or there is nothing to tell. */
  readonly planned: PlannedFile | undefined;
  /** Undefined: nothing in it is ours any more. */
  readonly record: RecordedFile | undefined;
}

/** One file of a card: its keys, or the whole of it. */
export function mergeFile(input: MergeInput, task: FileTask): Outcome<MergedFile> {
  const card = input.card(task.path);
  if (card.kind === 'unreadable')
    return { value: { planned: undefined, record: task.recorded }, findings: card.findings };
  const source = card.kind === 'text' ? card.source : undefined;
  if (task.whole !== undefined) return mergeWhole(input, task, task.whole, source);
  const gone = task.recorded?.whole;
  // Where edits reach a file that was wholly ours, they are merged into it as it stands.
  if (gone !== undefined && task.edits.length === 0) return letGoWhole(input, task, gone, source);
  return mergeKeysOf(input, task, source);
}

function mergeKeysOf(input: MergeInput, task: FileTask, source: SourceText | undefined): Outcome<MergedFile> {
  const { path, recorded } = task;
  const spec = specOf(input, task);
  const syntax = input.syntaxes[spec.syntax];
  const style = styleOf(spec.style);
  const parsed = source === undefined ? undefined : syntax.parse(source, style);
  if (parsed !== undefined && parsed.tree === undefined)
    return { value: { planned: undefined, record: recorded }, findings: parsed.findings };
  const stockText = input.stock(path);
  const merging = new KeyMerging(
    input,
    task,
    readKeys(syntax, style, source),
    stockText === undefined ? undefined : readKeys(syntax, style, stockText),
    stockText === undefined ? undefined : input.hash.plain(stockText.text),
  );
  const fetched = stockText === undefined ? input.fetched?.(path) : undefined;
  if (fetched !== undefined) merging.lookAtFetched(readKeys(syntax, style, fetched));
  const merged = [...task.edits.map((edit) => merging.edit(edit)), ...task.orphans.map((old) => merging.orphan(old))];
  const changes = merged.flatMap(({ change }) => (change === undefined ? [] : [change]));
  const before = source?.text ?? '';
  const made = changeText(syntax, style, source ?? { name: path, text: '' }, changes, input.secrets.find);
  if (made.kind === 'unreadable') return { value: { planned: undefined, record: recorded }, findings: made.findings };
  const editOf = new Map(merged.map(({ change, edit }) => [change, edit]));
  const findings: Finding[] = [
    ...(parsed?.findings ?? []),
    ...made.refused.map(({ change, finding }) => {
      const edit = editOf.get(change);
      return edit === undefined ? finding : withOrigin(finding, edit);
    }),
  ];
  const toldKeys = merged.map(({ planned }) => planned);
  const about = {
    path,
    instances: [...new Set(toldKeys.map(({ instance }) => instance))],
    // Of a file that may hold passwords of others, a plain hash would let them be guessed from a plan that is shown about.
    before:
      source === undefined
        ? undefined
        : fingerprint(
            input,
            source.text,
            merging.hasSecrets || !isTold(source.text, stockText, toldKeys, syntax, style),
          ),
    keys: toldKeys,
  };
  const keys = merged.flatMap(({ record }) => (record === undefined ? [] : [record]));
  const newHere = source === undefined ? made.text !== '' : recorded?.made === true;
  const goes =
    keys.length === 0 && source !== undefined && newHere && isOursAlone(made.text, recorded?.keys ?? [], syntax, style);
  const planned: PlannedFile = goes
    ? { ...about, act: 'remove' }
    : made.text === before
      ? { ...about, act: 'nothing' }
      : {
          ...about,
          act: 'change',
          syntax: spec.syntax,
          style: spec.style,
          changes,
          mode: spec.mode,
          owner: spec.owner,
          bytes: { before: Buffer.byteLength(before), after: Buffer.byteLength(made.text) },
        };
  const record: RecordedFile = {
    path,
    syntax: spec.syntax,
    style: spec.style,
    stock: merging.stockHash,
    ...(newHere ? { made: true } : {}),
    keys: keys.sort(byKey),
    whole: undefined,
  };
  return { value: { planned, record: keys.length === 0 ? undefined : record }, findings };
}

/**
 * Whether the dialect and the plan tell a card's text anyhow, byte for byte: it is the stock text with the keys that the
 * plan shows.
 */
function isTold(
  text: string,
  stock: SourceText | undefined,
  keys: readonly PlannedKey[],
  syntax: Syntax,
  style: Style,
): boolean {
  if (stock === undefined || text === stock.text) return stock !== undefined;
  const changes = keys.flatMap(({ key, record, from }): readonly PlannedChange[] => {
    if (from.kind === 'secret') return [];
    const value = from.kind === 'text' ? from.value : undefined;
    if (record !== undefined) return [{ op: 'record', target: record, value, secrets: [] }];
    return [value === undefined ? { op: 'remove', key } : { op: 'set', key, value, secrets: [] }];
  });
  const made = changeText(syntax, style, stock, changes, () => undefined);
  return made.kind === 'text' && made.text === text;
}

function byKey(a: RecordedKey, b: RecordedKey): number {
  const [left, right] = [placeIn(a), placeIn(b)];
  return left < right ? -1 : left > right ? 1 : 0;
}

/** Hash of a text of the card: keyed where a secret, of ours or of others, may be in it. */
export function fingerprint({ hash }: MergeInput, text: string, keyed: boolean): Fingerprint {
  return { keyed, hash: keyed ? hash.keyed(text) : hash.plain(text) };
}

/** How the file is written: as the dialect says, or, of one that no edit reaches, as the record does. */
function specOf(
  { compiled }: MergeInput,
  { edits: [edit], recorded }: FileTask,
): {
  readonly syntax: FileWritten['syntax'];
  readonly style: FileWritten['style'];
  readonly mode: number | undefined;
  readonly owner: string | undefined;
} {
  const instance = compiled.resolved.instances.find(({ name }) => name === edit?.instance);
  const spec = edit === undefined ? undefined : instance?.dialect.data.files[edit.file];
  if (spec !== undefined) return { syntax: spec.syntax, style: spec.style, mode: modeOf(spec.mode), owner: spec.owner };
  if (recorded === undefined) throw new Error('An edit of a file that no dialect has. This is a bug in thumbwright.');
  return { syntax: recorded.syntax, style: recorded.style, mode: undefined, owner: undefined };
}
