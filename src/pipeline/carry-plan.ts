import { markName, markText } from '../1-load/card-mark.ts';
import { printRecord } from '../4-plan/print-record.ts';
import { settleRecord } from '../4-plan/settle-record.ts';
import { styleOf } from '../dialect/style-of.ts';
import { spellOut } from '../4-plan/spell-out.ts';
import { placeIn } from '../4-plan/subject.ts';
import { writtenText } from '../4-plan/written-text.ts';
import { apply } from '../5-apply/apply.ts';
import type { Applied } from '../5-apply/apply.ts';
import type { CardPlace, KeyChange, Work } from '../5-apply/apply-input.ts';
import { Store } from '../5-apply/store.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Files } from '../files/contract.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { CardText } from '../4-plan/merge-keys.ts';
import type { Plan, PlannedChange, PlannedFile } from '../model/plan.ts';
import type { Tree } from '../syntax/contract.ts';
import { syntaxes } from '../syntax/registry.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import { checkCarried } from './check-carried.ts';
import { cardReader, fingerprintOf } from './plan-write.ts';

export interface CarryInput {
  readonly plan: Plan;
  readonly place: CardPlace;
  /** Every secret that the plan names must be at hand. */
  secret(name: string): string | undefined;
  /** The private key for keyed hashes. */
  readonly key: string;
}

export interface Carried {
  readonly applied: Applied;
  /** The files in which we own something, as they stand now. */
  readonly texts: ReadonlyMap<CardPath, string>;
}

/** A plan made ready for one card, before anything is done. */
export interface Prepared {
  readonly works: readonly Work[];
  /** The files in which we own something, as they will stand. */
  readonly texts: ReadonlyMap<CardPath, string>;
  /** With all secrets as hashes. */
  readonly record: CardRecord;
  readonly card: (path: CardPath) => CardText;
}

/** What a plan comes to on a card. Errors: changes that a syntax refuses, and files that cannot be read. Only reads. */
export function preparePlan(files: Files, input: CarryInput): Outcome<Prepared | undefined> {
  const { plan, place } = input;
  const card = cardReader(files, place.parts);
  const store = new Store(place.disk, place.store);
  const findings: Finding[] = [];
  const works: Work[] = [];
  const texts = new Map<CardPath, string>();
  const sourceOf = (path: CardPath): SourceText | undefined => {
    const text = card(path);
    return text.kind === 'text' ? text.source : undefined;
  };
  const carried = checkCarried(plan.files, sourceOf, (name) => input.secret(name));
  if (carried.length > 0) return { value: undefined, findings: carried };
  for (const planned of plan.files) {
    const standing = card(planned.path);
    if (standing.kind === 'unreadable') findings.push(...standing.findings);
    const current = standing.kind === 'text' ? standing.source : undefined;
    if (current !== undefined) texts.set(planned.path, current.text);
    if (planned.act === 'nothing') continue;
    const made = workOf(planned, current, input, store);
    findings.push(...made.findings);
    if (made.value === undefined) continue;
    works.push(made.value);
    if (made.value.content === undefined) texts.delete(planned.path);
    else texts.set(planned.path, decodeBytes(made.value.content));
  }
  if (findings.some(({ grade }) => grade === 'error')) return { value: undefined, findings };
  works.push(...marks(files, plan, place));
  const record = {
    ...plan.record,
    files: settleRecord(plan.record.files, {
      find: (name) => input.secret(name),
      keyed: (text) => fingerprintOf(encodeText(text), input.key),
      writtenTo: (path) => texts.get(path),
      keptText: (hash) => {
        const text = keptText(store, hash);
        return text === undefined ? undefined : decodeBytes(text);
      },
    }),
  };
  return { value: { works, texts, record, card }, findings };
}

/** Does what a plan says, all or nothing. Errors: those of `preparePlan` (nothing is written then), and of `apply`. */
export function carryPlan(files: Files, input: CarryInput): Outcome<Carried | undefined> {
  const { value: ready, findings } = preparePlan(files, input);
  if (ready === undefined) return { value: undefined, findings };
  const { works, texts, record } = ready;
  const ran = apply({
    ...input.place,
    works,
    recordText: printRecord(record),
    fingerprint: (bytes, keyed) => fingerprintOf(bytes, keyed ? input.key : undefined),
    needed: record.files.flatMap(({ whole }) => (whole?.before === undefined ? [] : [whole.before])),
  });
  return { value: { applied: ran.value, texts }, findings: [...findings, ...ran.findings] };
}

function keptText(store: Store, hash: string): Uint8Array | undefined {
  const kept = store.text(hash);
  return kept.kind === 'text' ? kept.bytes : undefined;
}

function workOf(
  planned: PlannedFile,
  current: SourceText | undefined,
  input: CarryInput,
  store: Store,
): Outcome<Work | undefined> {
  const base = { path: planned.path, expected: planned.before };
  if (planned.act === 'remove')
    return { value: current === undefined ? undefined : { ...base, content: undefined }, findings: [] };
  if (planned.act === 'restore') {
    const { keyed, hash } = planned.backup;
    const text = keyed ? store.textThat((bytes) => fingerprintOf(bytes, input.key) === hash) : keptText(store, hash);
    if (text !== undefined) return { value: { ...base, content: text }, findings: [] };
    return {
      value: undefined,
      findings: [
        makeFinding('workspace-failed', {
          detail: `What stood at ${planned.path} before the first write is to come back, and its copy is not in the private folder, or is damaged.`,
          wayOut: 'Restore .thumbwright/private from a backup, or remove the file on the card by hand.',
        }),
      ],
    };
  }
  const text = writtenText(planned, current, (name) => input.secret(name), syntaxes);
  if (text.value === undefined || planned.act === 'nothing') return { value: undefined, findings: text.findings };
  // Carried out before: twice is once.
  if (text.value === current?.text) return { value: undefined, findings: text.findings };
  return {
    value: {
      ...base,
      content: encodeText(text.value),
      mode: planned.mode,
      owner: planned.owner,
      ...(planned.act === 'change'
        ? {
            keys: {
              syntax: planned.syntax,
              style: styleOf(planned.style),
              changes: keyChanges(planned, current, input),
            },
          }
        : {}),
    },
    findings: text.findings,
  };
}

/** What is taken back by key, should the file be changed by others before an undo. */
function keyChanges(
  planned: PlannedFile & { readonly act: 'change' },
  current: SourceText | undefined,
  input: CarryInput,
): readonly KeyChange[] {
  const tree: Tree | undefined =
    current === undefined ? undefined : syntaxes[planned.syntax].parse(current, styleOf(planned.style)).tree;
  const keys = new Map(planned.keys.map((key) => [placeIn(key), key]));
  const textOf = (change: PlannedChange): KeyChange['after'] =>
    change.op === 'remove' || change.value === undefined
      ? undefined
      : (spellOut(change.value, change.secrets, (name) => input.secret(name)) ?? change.value);
  return planned.changes.map((change): KeyChange => {
    if (change.op !== 'record') return { key: change.key, before: tree?.get(change.key), after: textOf(change) };
    const key = keys.get(placeIn({ key: '', record: change.target }));
    return {
      key: key?.key ?? change.target.field,
      record: change.target,
      before: key?.from.kind === 'text' ? key.from.value : undefined,
      after: textOf(change),
    };
  });
}

/** The id files of parts that carry none. */
function marks(files: Files, plan: Plan, place: CardPlace): readonly Work[] {
  return plan.parts.flatMap(({ name, mark }): readonly Work[] => {
    const folder = place.parts.get(name);
    const path = cardPath(`${name}:${markName}`);
    if (!mark || folder === undefined || path === undefined) return [];
    const read = files.read(files.join(folder, markName));
    return [
      {
        path,
        expected: read.kind === 'bytes' ? { keyed: false, hash: fingerprintOf(read.bytes, undefined) } : undefined,
        content: encodeText(markText({ card: plan.card, device: plan.device })),
      },
    ];
  });
}
