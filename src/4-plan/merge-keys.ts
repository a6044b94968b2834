import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Compiled, Edit, KeyText, WholeFile } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { PlannedFile } from '../model/plan.ts';
import type { CardRecord, RecordedFile } from '../model/record.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Said } from './classify-key.ts';
import type { OldKey } from './file-task.ts';
import { findMoves } from './find-moves.ts';
import { mergeFile } from './merge-file.ts';
import { renamedBy } from './renamed-by.ts';
import { keyId, placeIn } from './subject.ts';
import type { Subject } from './subject.ts';
import type { FindSecret } from './spell-out.ts';

/** What the card has at a path. */
export type CardText =
  | { readonly kind: 'absent' }
  | { readonly kind: 'text'; readonly source: SourceText }
  /** It is there, and cannot be read: nothing is planned. */
  | { readonly kind: 'unreadable'; readonly findings: readonly Finding[] };

export interface MergeInput {
  readonly compiled: Compiled;
  /** Undefined: this card was never written. */
  readonly record: CardRecord | undefined;
  card(path: CardPath): CardText;
  /** The stock text of the version now on the card; undefined where none is known. */
  stock(path: CardPath): SourceText | undefined;
  /**
   * The text that `fetch` brought of the version now on the card. Taken only where no stock is known, and only to tell
   * whether the card is back at it: it may hold passwords, and what somebody set by hand.
   */
  fetched?(path: CardPath): SourceText | undefined;
  /** The frontend versions now on the card, by instance; undefined when unknown. */
  readonly versions: ReadonlyMap<string, string | undefined>;
  /**
   * Whether the lens reads two texts of a key (undefined: no key) as one value. `edit`: of the profile; undefined for a
   * key that is no longer in it. Asked only of texts that differ and hold no secret.
   */
  same(subject: Subject, edit: Edit | undefined, a: KeyText | undefined, b: KeyText | undefined): boolean;
  /**
   * What a text of a recorded key, by the frontend version in the record, is by the version now on the card. `here`: the
   * key is the setting's still.
   */
  renewed(old: OldKey, text: KeyText): { readonly text: KeyText; readonly here: boolean };
  readonly secrets: {
    /** The secrets that an edit's value names, as `<secret:NAME>`. */
    namesIn(edit: Edit): readonly string[];
    namesInFile(file: WholeFile): readonly string[];
    readonly find: FindSecret;
  };
  /** SHA-256 (hex) of a text's bytes, and the same by the private key (HMAC). */
  readonly hash: { readonly plain: (text: string) => string; readonly keyed: (text: string) => string };
  /** Hand changes give way to the profile. */
  readonly takeProfile: boolean;
  /** What the person says now, by `keyId`. */
  readonly answers: ReadonlyMap<string, Said>;
  readonly syntaxes: Readonly<Record<SyntaxName, Syntax>>;
}

/** What is to become of the files of a card, and what the record is to say of them afterwards. */
export interface MergedFiles {
  /** Sorted by path; those where nothing is done too. */
  readonly files: readonly PlannedFile[];
  /** Sorted by path. */
  readonly record: readonly RecordedFile[];
}

/**
 * The merge by key of a profile with a card: each owned key is classed (see `classifyKey`) and written, kept or let
 * alone; no other key of a file is touched. With an error among the findings nothing may be written, since a write must
 * not be half.
 */
export function planFiles(input: MergeInput): Outcome<MergedFiles> {
  const { compiled, record } = input;
  const wholes = new Map(compiled.wholeFiles.map((file) => [file.path, file]));
  // Of two edits for one key (a dispute, reported already) the last is the one asked.
  const edits = new Map<CardPath, Map<string, Edit>>();
  for (const edit of compiled.edits) {
    if (wholes.has(edit.path)) continue;
    let keys = edits.get(edit.path);
    if (keys === undefined) edits.set(edit.path, (keys = new Map<string, Edit>()));
    keys.set(placeIn(edit), edit);
  }
  const recorded = new Map((record?.files ?? []).map((file) => [file.path, file]));
  const olds = new Map<string, OldKey>();
  for (const file of recorded.values())
    for (const key of file.keys) olds.set(keyId({ ...key, path: file.path }), { ...key, path: file.path });
  const added: Edit[] = [];
  const named = new Set<string>();
  for (const keys of edits.values()) {
    for (const edit of keys.values()) {
      const id = keyId(edit);
      if (olds.has(id)) named.add(id);
      // A mark made by hand is no key that a setting has come to.
      else if (edit.byHand !== true) added.push(edit);
    }
  }
  const left = [...olds].filter(([id]) => !named.has(id)).map(([, old]) => old);
  const orphans = new Map<CardPath, OldKey[]>();
  for (const old of left) {
    const there = orphans.get(old.path);
    if (there === undefined) orphans.set(old.path, [old]);
    else there.push(old);
  }
  const moves = findMoves(added, left, renamedBy(compiled.resolved, record, input.versions));
  const successors = new Map([...moves].map(([edit, old]) => [old, edit]));

  const paths = new Set<CardPath>([...wholes.keys(), ...edits.keys(), ...recorded.keys()]);
  const findings: Finding[] = [];
  const files: PlannedFile[] = [];
  const records: RecordedFile[] = [];
  for (const path of [...paths].sort()) {
    const merged = mergeFile(input, {
      path,
      edits: [...(edits.get(path)?.values() ?? [])],
      whole: wholes.get(path),
      recorded: recorded.get(path),
      oldOf: (edit) => olds.get(keyId(edit)) ?? moves.get(edit) ?? unmarked(edit),
      orphans: orphans.get(path) ?? [],
      successorOf: (key) => successors.get(key),
    });
    findings.push(...merged.findings);
    if (merged.value.planned !== undefined) files.push(merged.value.planned);
    if (merged.value.record !== undefined) records.push(merged.value.record);
  }
  return { value: { files, record: records }, findings };
}

/** Of a mark that was made since the last write: it was not there, and the list that was written did not name it. */
function unmarked(edit: Edit): OldKey | undefined {
  if (edit.byHand !== true) return undefined;
  const off = edit.value === undefined ? ({ kind: 'absent' } as const) : ({ kind: 'text', value: edit.value } as const);
  const { instance, file, path, key, record, setting, item, scope } = edit;
  return {
    instance,
    file,
    path,
    key,
    ...(record === undefined ? {} : { record }),
    setting,
    ...(item === undefined ? {} : { item }),
    scope,
    before: off,
    written: off,
  };
}
