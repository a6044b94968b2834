import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { KeyText, RecordTarget } from '../model/compiled.ts';
import type { RecordChange, RecordPlace, Style, Syntax, SyntaxValue, Tree } from '../syntax/contract.ts';
import type { Span } from '../text/span.ts';
import { applyEdits } from '../text/text-edit.ts';
import { movedBy, placesAfter } from './places-after.ts';
import { StandingRecords } from './standing-records.ts';

interface Sheet {
  readonly syntax: Syntax;
  readonly style: Style;
  readonly name: string;
  readonly tree: Tree | undefined;
  readonly text: string;
  readonly changes: readonly Span[];
}

/** A field of a record that is to hold a value, or none. What has no `record` is passed over. */
interface FieldEdit {
  readonly record?: RecordTarget;
  readonly value: KeyText | undefined;
}

interface Recorded<E> {
  readonly text: string;
  readonly changes: readonly Span[];
  readonly keys: readonly { readonly edit: E; readonly span: Span | undefined; readonly changed: boolean }[];
  readonly refused: readonly { readonly finding: Finding; readonly edit: E }[];
}

/** All that is asked of one record. */
interface Asked<E> {
  readonly target: RecordTarget;
  readonly edits: E[];
}

/** Puts the records of one file, one repeated element after the other; edits without a record are passed over. */
export function buildRecords<E extends FieldEdit>(sheet: Sheet, edits: readonly E[]): Recorded<E> {
  const groups = new Map<string, Map<string, Asked<E>>>();
  for (const edit of edits) {
    const target = edit.record;
    if (target === undefined) continue;
    const group = groups.get(target.at) ?? new Map<string, Asked<E>>();
    groups.set(target.at, group);
    const id = JSON.stringify([target.by, target.is]);
    const asked = group.get(id);
    if (asked === undefined) group.set(id, { target, edits: [edit] });
    else asked.edits.push(edit);
  }
  let { text, tree, changes } = sheet;
  const refused: { finding: Finding; edit: E }[] = [];
  const changed = new Set<E>();
  const added = new Set<Asked<E>>();
  for (const [at, group] of groups) {
    const { records } = sheet.syntax;
    if (tree === undefined) break;
    const puts: { readonly change: RecordChange; readonly asked: Asked<E> }[] = [];
    const standing = new StandingRecords(sheet.syntax, tree, at);
    for (const asked of group.values()) {
      const found = standing.find(asked.target);
      const finding = records === undefined ? noRecords(sheet, asked) : otherIdentity(tree, found, asked);
      if (finding === undefined) puts.push({ change: changeOf(found, asked, standing), asked });
      else for (const edit of asked.edits) refused.push({ finding, edit });
    }
    if (records === undefined || puts.length === 0) continue;
    const made = records.change(
      tree,
      at,
      puts.map(({ change }) => change),
    );
    puts.forEach(({ asked }, index) => {
      const result = made.results[index];
      if (result?.kind === 'changed' && standing.find(asked.target) === undefined) added.add(asked);
      for (const edit of asked.edits) {
        if (result?.kind === 'refused') refused.push({ finding: result.finding, edit });
        if (result?.kind === 'changed' && !holds(standing, edit)) changed.add(edit);
      }
    });
    if (made.edits.length === 0) continue;
    text = applyEdits(text, made.edits);
    changes = [...movedBy(made.edits, changes), ...placesAfter(made.edits)].sort((a, b) => a.start - b.start);
    tree = sheet.syntax.parse({ name: sheet.name, text }, sheet.style).tree;
  }
  const keys: Recorded<E>['keys'][number][] = [];
  for (const [at, group] of groups) {
    const standing = tree === undefined ? undefined : new StandingRecords(sheet.syntax, tree, at);
    for (const asked of group.values()) {
      for (const edit of asked.edits) {
        const record = edit.record === undefined ? undefined : standing?.record(edit.record);
        // All of a new record is told by the edits that asked for it; of a known one its field alone.
        // What was taken out of it is told where the record says which it is.
        const shown = edit.value === undefined && changed.has(edit) ? edit.record?.by : edit.record?.field;
        const span = added.has(asked) ? record?.span : record?.places.get(shown ?? '');
        keys.push({ edit, span, changed: changed.has(edit) });
      }
    }
  }
  return { text, changes, keys, refused };
}

/**
 * A new record has the fields that identify it; a known one is given only what is asked and not there already, in
 * whatever spelling. A record that is to go is taken out unless something else is put in it.
 */
function changeOf(
  found: RecordPlace | undefined,
  { target, edits }: Asked<FieldEdit>,
  standing: StandingRecords,
): RecordChange {
  const { by, is } = target;
  const puts = edits.some(({ value }) => value !== undefined);
  if (!puts && edits.some(({ record }) => record?.whole === true)) return { op: 'drop', by, is };
  const fields = new Map<string, SyntaxValue | undefined>();
  if (found === undefined && puts)
    for (const { record } of edits) {
      for (const [field, value] of record?.identity ?? []) fields.set(field, value);
      for (const [field, value] of record?.fresh ?? []) fields.set(field, value);
    }
  for (const edit of edits)
    if (edit.record !== undefined && !holds(standing, edit)) fields.set(edit.record.field, edit.value);
  return { op: 'put', by, is, fields };
}

/** Whether the record has the field as it is asked; how a text is spelled (bare or as a string) is no part of it. */
function holds(standing: StandingRecords, { record, value }: FieldEdit): boolean {
  if (record === undefined) return false;
  if (value === undefined && record.whole === true) return standing.find(record) === undefined;
  const held = standing.field(record);
  return value === undefined ? held === undefined : value.kind === 'scalar' && held === value.text;
}

/** The record that is found belongs to another system: it is not the one that is meant. */
function otherIdentity(tree: Tree, found: RecordPlace | undefined, { target }: Asked<FieldEdit>): Finding | undefined {
  for (const [field, value] of target.identity) {
    const held = found?.fields.get(field);
    if (found === undefined || held === undefined || value.kind !== 'scalar' || held === value.text) continue;
    return makeFinding('key-ambiguous', {
      detail: `The record with '${target.is}' as '${target.by}' in ${tree.source.name} has '${held}' as '${field}', not '${value.text}'.`,
      wayOut: 'Let the dialect write a path that only this game has, or correct the record by hand.',
      place: { source: tree.source, span: found.span },
    });
  }
  return undefined;
}

function noRecords({ syntax, name }: Sheet, { target }: Asked<FieldEdit>): Finding {
  return makeFinding('key-not-determined', {
    detail: `'${target.at}' in ${name} is to hold records, and the format ${syntax.name} has none.`,
    wayOut: 'Say it in a file of the format json, toml, xml or yaml.',
  });
}
