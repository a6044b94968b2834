import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import type { Changed, ChangeResult, RecordChange, Style, SyntaxValue } from '../contract.ts';

/** What a tree-shaped syntax does for its records: they are numbered from 0 in file order. */
export interface RecordHost {
  readonly count: number;
  /** A field's value; the field is a path inside the record. */
  field(index: number, path: string): SyntaxValue | undefined;
  /** A plan with nothing in it. */
  plan(): RecordPlan;
}

export interface RecordPlan {
  /** Undefined: the field is taken out. */
  set(index: number, field: string, value: SyntaxValue | undefined): ChangeResult;
  /** Adds a record before one that is there, or after all. */
  add(fields: ReadonlyMap<string, SyntaxValue>, before: number | undefined): ChangeResult;
  drop(index: number): ChangeResult;
  finish(): readonly TextEdit[];
}

/** What is asked of one record by all changes that name it: several puts are one, the last of put and drop counts. */
interface Wish {
  readonly by: string;
  readonly is: string;
  fields: Map<string, SyntaxValue | undefined> | 'drop';
}

/** Puts and drops records. A put that is refused in one field is not made at all. */
export function changeRecords(
  source: SourceText,
  host: RecordHost,
  siblings: NonNullable<Style['siblings']>,
  changes: readonly RecordChange[],
): Changed {
  const plan = host.plan();
  const indexes = new Map<string, Map<string, number>>();
  const touched = new Set<number>();
  const wishes = new Map<string, Wish>();
  const keyOf = (change: RecordChange): string => JSON.stringify([change.by, change.is]);
  for (const change of changes) {
    const key = keyOf(change);
    const known = wishes.get(key)?.fields;
    const fields =
      change.op === 'drop' ? ('drop' as const) : new Map([...(known instanceof Map ? known : []), ...change.fields]);
    wishes.delete(key);
    wishes.set(key, { by: change.by, is: change.is, fields });
  }
  const results = new Map<string, ChangeResult>();
  for (const [key, wish] of wishes) {
    const index = recordIndex(host, indexes, wish.by).get(wish.is);
    if (index !== undefined && touched.has(index)) results.set(key, collision(source, wish));
    else
      results.set(
        key,
        index === undefined ? absent(host, plan, indexes, wish, siblings) : present(host, plan, index, wish),
      );
    if (index !== undefined) touched.add(index);
  }
  return {
    edits: plan.finish(),
    results: changes.map((change) => results.get(keyOf(change)) ?? { kind: 'unchanged' }),
  };
}

/** Records by what their field holds; the first of several with one text counts. */
function recordIndex(host: RecordHost, indexes: Map<string, Map<string, number>>, by: string): Map<string, number> {
  let index = indexes.get(by);
  if (index !== undefined) return index;
  index = new Map();
  for (let k = 0; k < host.count; k++) {
    const value = host.field(k, by);
    if (value?.kind === 'scalar' && !index.has(value.text)) index.set(value.text, k);
  }
  indexes.set(by, index);
  return index;
}

function present(host: RecordHost, plan: RecordPlan, index: number, { fields }: Wish): ChangeResult {
  if (fields === 'drop') return plan.drop(index);
  const trial = host.plan();
  let outcome: ChangeResult = { kind: 'unchanged' };
  for (const [field, value] of fields) {
    const result = trial.set(index, field, value);
    if (result.kind === 'refused') return result;
    if (result.kind === 'changed') outcome = result;
  }
  for (const [field, value] of fields) plan.set(index, field, value);
  return outcome;
}

function absent(
  host: RecordHost,
  plan: RecordPlan,
  indexes: Map<string, Map<string, number>>,
  { by, is, fields }: Wish,
  siblings: NonNullable<Style['siblings']>,
): ChangeResult {
  if (fields === 'drop') return { kind: 'unchanged' };
  const given = [...fields].filter((field): field is [string, SyntaxValue] => field[1] !== undefined);
  if (given.length === 0 && fields.size > 0) return { kind: 'unchanged' };
  const known = recordIndex(host, indexes, by);
  const [neighbour] = known.values();
  const like = neighbour === undefined ? undefined : host.field(neighbour, by);
  // Where the other records have numbers for names, so has the new one, if it can.
  const number = /^-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?$/.test(is);
  const literal = number && like?.kind === 'scalar' && like.literal === true ? { literal: true } : {};
  const name: SyntaxValue = { kind: 'scalar', text: is, ...literal };
  const before = siblings === 'start' && host.count > 0 ? 0 : siblings === 'sorted' ? firstAfter(known, is) : undefined;
  return plan.add(new Map([[by, name], ...given.filter(([field]) => field !== by)]), before);
}

function firstAfter(known: ReadonlyMap<string, number>, is: string): number | undefined {
  let first: number | undefined;
  for (const [text, index] of known) if (text > is && (first === undefined || index < first)) first = index;
  return first;
}

function collision(source: SourceText, { by, is }: Wish): ChangeResult {
  const finding = makeFinding('changes-collide', {
    detail: `The record whose ${JSON.stringify(by)} is ${JSON.stringify(is)} is to be changed twice, under two names.`,
    wayOut: 'Name the record by one of its fields only.',
    place: { source, span: { start: 0, end: 0 } },
  });
  return { kind: 'refused', finding };
}
