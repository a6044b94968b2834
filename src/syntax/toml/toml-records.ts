import type { Changed, ChangeResult, RecordChange, RecordPlace, SyntaxValue } from '../contract.ts';
import type { Span } from '../../text/span.ts';
import { printDottedPath, readDottedPath, tomlPaths } from '../shared/dotted-path.ts';
import type { PathStep } from '../shared/dotted-path.ts';
import { lineEndAfter } from '../shared/line-plan.ts';
import { refusalsOf } from '../shared/refusals.ts';
import { changeRecords } from '../shared/tree-records.ts';
import type { RecordHost, RecordPlan } from '../shared/tree-records.ts';
import { TomlChanger } from './change-toml.ts';
import type { TomlArray, TomlNode, TomlTable, TomlTables } from './toml-model.ts';
import { sectionsOf } from './toml-plan.ts';
import { valueOf } from './toml-tree.ts';
import type { TomlTree } from './toml-tree.ts';

/** Where records stand: below `[[headers]]`, in brackets, or nowhere yet. */
type Place =
  | { readonly kind: 'tables'; readonly tables: TomlTables; readonly items: readonly TomlTable[] }
  | { readonly kind: 'array'; readonly array: TomlArray; readonly items: readonly TomlTable[] }
  | {
      readonly kind: 'none';
      readonly below: TomlTable;
      readonly rest: readonly string[];
      readonly items: readonly TomlTable[];
    }
  | { readonly kind: 'other'; readonly items: readonly TomlTable[] };

function placeOf(tree: TomlTree, steps: readonly PathStep[]): Place {
  const found = tree.walk(steps);
  const none: readonly TomlTable[] = [];
  if (found.kind === 'found') {
    const { node } = found;
    if (node.kind === 'tables') return { kind: 'tables', tables: node, items: node.items };
    if (node.kind !== 'array') return { kind: 'other', items: none };
    const items = node.items.filter((item) => item.kind === 'table');
    return items.length === node.items.length ? { kind: 'array', array: node, items } : { kind: 'other', items: none };
  }
  const rest = found.rest.filter((step) => typeof step === 'string');
  if (found.below.kind !== 'table' || rest.length < found.rest.length) return { kind: 'other', items: none };
  return { kind: 'none', below: found.below, rest, items: none };
}

/** The records of an array of tables, in either of its spellings. */
export function listTomlRecords(tree: TomlTree, at: string, fields: readonly string[]): readonly RecordPlace[] {
  const read = readDottedPath(at, tomlPaths);
  if (read.kind === 'bad') return [];
  return placeOf(tree, read.steps).items.map((table, index) => {
    const texts = new Map<string, string>();
    const places = new Map<string, Span>();
    for (const field of fields) {
      const node = nodeOf(tree, [...read.steps, index], field);
      const value = node === undefined ? undefined : valueOf(node);
      if (node?.kind !== 'scalar' || value?.kind !== 'scalar') continue;
      texts.set(field, value.text);
      places.set(field, node.span);
    }
    return { span: spanOf(tree, table), fields: texts, places };
  });
}

function nodeOf(tree: TomlTree, record: readonly PathStep[], field: string): TomlNode | undefined {
  const read = readDottedPath(field, tomlPaths);
  const found = read.kind === 'path' ? tree.walk([...record, ...read.steps]) : undefined;
  return found?.kind === 'found' ? found.node : undefined;
}

function fieldOf(tree: TomlTree, record: readonly PathStep[], field: string): SyntaxValue | undefined {
  const node = nodeOf(tree, record, field);
  return node === undefined ? undefined : valueOf(node);
}

function spanOf(tree: TomlTree, table: TomlTable): RecordPlace['span'] {
  if (table.home.kind === 'inline') return table.home.inline.span;
  const sections = sectionsOf(table);
  const starts = sections.map((section) => section.header?.start ?? 0);
  const ends = sections.map((section) =>
    lineEndAfter(tree.source.text, section.entries.at(-1)?.span.end ?? section.header?.end ?? 0),
  );
  return { start: Math.min(...starts), end: Math.max(...ends) };
}

/** Puts and drops records of an array of tables. A new one is written as its neighbours are. */
export function changeTomlRecords(tree: TomlTree, at: string, changes: readonly RecordChange[]): Changed {
  const read = readDottedPath(at, tomlPaths);
  const steps = read.kind === 'path' ? read.steps : [];
  const refuse = refusalsOf(tree.source, 'TOML');
  const place: Place = read.kind === 'path' ? placeOf(tree, steps) : { kind: 'other', items: [] };
  if (place.kind === 'other') {
    const result = refuse.notDetermined(at, 'a list of records cannot stand there.', { start: 0, end: 0 });
    return { edits: [], results: changes.map(() => result) };
  }
  const host: RecordHost = {
    count: place.items.length,
    field: (index, path) => fieldOf(tree, [...steps, index], path),
    plan: () => new TomlRecordPlan(tree, at, steps, place),
  };
  return changeRecords(tree.source, host, tree.style.siblings ?? 'end', changes);
}

class TomlRecordPlan implements RecordPlan {
  readonly #changer: TomlChanger;
  readonly #at: string;
  readonly #steps: readonly PathStep[];
  readonly #place: Exclude<Place, { kind: 'other' }>;
  /** New records of a list that is made in an inline table: it is written once, at the end. */
  readonly #made: string[] = [];

  constructor(tree: TomlTree, at: string, steps: readonly PathStep[], place: Exclude<Place, { kind: 'other' }>) {
    this.#changer = new TomlChanger(tree);
    this.#at = at;
    this.#steps = steps;
    this.#place = place;
  }

  set(index: number, field: string, value: SyntaxValue | undefined): ChangeResult {
    const read = readDottedPath(field, tomlPaths);
    if (read.kind === 'bad') return this.#changer.refuse.notDetermined(field, `${read.why}`, { start: 0, end: 0 });
    const steps = [...this.#steps, index, ...read.steps];
    const path = printDottedPath(steps, tomlPaths);
    const change = value === undefined ? ({ op: 'remove', path } as const) : ({ op: 'set', path, value } as const);
    return this.#changer.apply({ change, steps });
  }

  add(fields: ReadonlyMap<string, SyntaxValue>, before: number | undefined): ChangeResult {
    const lines: string[] = [];
    for (const [field, value] of fields) {
      const read = readDottedPath(field, tomlPaths);
      if (read.kind === 'bad' || read.steps.some((step) => typeof step === 'number')) {
        return this.#changer.refuse.notDetermined(this.#at, `its field ${field} is no name.`, { start: 0, end: 0 });
      }
      const written = this.#changer.write(value, this.#changer.neighbourQuote(this.#place.items.at(-1)));
      if (written.kind === 'cannot') return this.#changer.refuse.cannotCarry(field, written.why, { start: 0, end: 0 });
      lines.push(`${printDottedPath(read.steps, tomlPaths)} = ${written.text}`);
    }
    const place = this.#place;
    const { plan } = this.#changer;
    if (place.kind === 'array') {
      plan.putItem(place.array, (before ?? place.items.length) - 1, `{ ${lines.join(', ')} }`);
    } else if (place.kind === 'tables') {
      plan.addTable(place.items[0] ?? noTable(), place.tables, place.items[0]?.header ?? [], lines, before);
    } else if (
      place.below.home.kind === 'inline' ||
      (place.below.home.kind === 'section' && place.below.home.prefix.length > 0)
    ) {
      this.#made.push(`{ ${lines.join(', ')} }`);
    } else plan.addTable(place.below, undefined, [...place.below.header, ...place.rest], lines, undefined);
    return { kind: 'changed' };
  }

  drop(index: number): ChangeResult {
    const place = this.#place;
    const table = place.items[index];
    if (place.kind === 'array') this.#changer.plan.takeItem(place.array, index);
    else if (table !== undefined) this.#changer.plan.dropTable(table);
    return { kind: 'changed' };
  }

  finish(): ReturnType<RecordPlan['finish']> {
    const place = this.#place;
    if (place.kind === 'none' && this.#made.length > 0) {
      this.#changer.plan.addKey(place.below, place.rest, `[${this.#made.join(', ')}]`);
    }
    return this.#changer.plan.finish();
  }
}

function noTable(): never {
  throw new Error('An array of tables without tables was read. This is a bug in thumbwright.');
}
