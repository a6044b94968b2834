import type { Changed, ChangeResult, RecordChange, RecordPlace, SyntaxValue } from '../contract.ts';
import type { Span } from '../../text/span.ts';
import { printDottedPath, readDottedPath, yamlPaths } from '../shared/dotted-path.ts';
import type { PathStep } from '../shared/dotted-path.ts';
import { refusalsOf } from '../shared/refusals.ts';
import { changeRecords } from '../shared/tree-records.ts';
import type { RecordHost, RecordPlan } from '../shared/tree-records.ts';
import { YamlChanger, asYaml } from './change-yaml.ts';
import type { Hindrance } from './yaml-changes.ts';
import type { YamlItem, YamlNode, YamlSeq } from './yaml-model.ts';
import { readYamlPath, valueOf } from './yaml-tree.ts';
import type { YamlSlot, YamlTree } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** Where records stand: in a sequence of mappings, or nowhere yet, below `below`. */
type Place =
  | { readonly kind: 'seq'; readonly seq: YamlSeq; readonly slot: YamlSlot; readonly items: readonly YamlItem[] }
  | {
      readonly kind: 'none';
      readonly below: YamlNode | undefined;
      readonly slot: YamlSlot;
      readonly rest: readonly string[];
      readonly items: readonly YamlItem[];
    }
  | { readonly kind: 'empty'; readonly node: YamlNode; readonly slot: YamlSlot; readonly items: readonly YamlItem[] }
  | { readonly kind: 'other'; readonly why: string; readonly items: readonly YamlItem[] };

function placeOf(tree: YamlTree, steps: readonly PathStep[]): Place {
  const items: readonly YamlItem[] = [];
  const found = tree.walk(steps);
  if (tree.document.several) return { kind: 'other', why: 'the file holds several documents.', items };
  if (found.kind === 'ambiguous') return { kind: 'other', why: 'a name on the way stands twice.', items };
  if (found.shared) return { kind: 'other', why: 'aliases refer to what holds it.', items };
  if (found.kind === 'missing') {
    const rest = found.rest.filter((step) => typeof step === 'string');
    if (rest.length < found.rest.length || rest.length === 0)
      return { kind: 'other', why: 'its place is not told.', items };
    return { kind: 'none', below: found.below, slot: found.slot, rest, items };
  }
  const { node, slot } = found;
  if (node.kind === 'scalar' && node.style === 'empty') return { kind: 'empty', node, slot, items };
  if (node.kind !== 'seq' || node.items.some((item) => item.value.kind !== 'map')) {
    return { kind: 'other', why: 'something else than a list of records stands there.', items };
  }
  return { kind: 'seq', seq: node, slot, items: node.items };
}

/** The records of a sequence of mappings. */
export function listYamlRecords(tree: YamlTree, at: string, fields: readonly string[]): readonly RecordPlace[] {
  const read = readYamlPath(at);
  if (read.kind === 'bad') return [];
  return placeOf(tree, read.steps).items.map((item, index) => {
    const texts = new Map<string, string>();
    const places = new Map<string, Span>();
    for (const field of fields) {
      const node = nodeOf(tree, [...read.steps, index], field);
      const value = node === undefined ? undefined : valueOf(node);
      if (node === undefined || value?.kind !== 'scalar') continue;
      texts.set(field, value.text);
      places.set(field, node.span);
    }
    return { span: item.span, fields: texts, places };
  });
}

function nodeOf(tree: YamlTree, record: readonly PathStep[], field: string): YamlNode | undefined {
  const read = readDottedPath(field, yamlPaths);
  const found = read.kind === 'path' ? tree.walk([...record, ...read.steps]) : undefined;
  return found?.kind === 'found' ? found.node : undefined;
}

function fieldOf(tree: YamlTree, record: readonly PathStep[], field: string): SyntaxValue | undefined {
  const node = nodeOf(tree, record, field);
  return node === undefined ? undefined : valueOf(node);
}

/** Puts and drops records of a sequence of mappings. A new one is written as its neighbours are. */
export function changeYamlRecords(tree: YamlTree, at: string, changes: readonly RecordChange[]): Changed {
  const read = readYamlPath(at);
  const steps = read.kind === 'path' ? read.steps : [];
  const place: Place = read.kind === 'path' ? placeOf(tree, steps) : { kind: 'other', why: read.why, items: [] };
  if (place.kind === 'other') {
    const result = refusalsOf(tree.source, 'YAML').notDetermined(at, place.why, { start: 0, end: 0 });
    return { edits: [], results: changes.map(() => result) };
  }
  const host: RecordHost = {
    count: place.items.length,
    field: (index, path) => fieldOf(tree, [...steps, index], path),
    plan: () => new YamlRecordPlan(tree, at, steps, place),
  };
  return changeRecords(tree.source, host, tree.style.siblings ?? 'end', changes);
}

class YamlRecordPlan implements RecordPlan {
  readonly #tree: YamlTree;
  readonly #changer: YamlChanger;
  readonly #at: string;
  readonly #steps: readonly PathStep[];
  readonly #place: Exclude<Place, { kind: 'other' }>;
  /** Records of a list that is not there yet: it is written once, at the end. */
  readonly #made: YamlValue[] = [];

  constructor(tree: YamlTree, at: string, steps: readonly PathStep[], place: Exclude<Place, { kind: 'other' }>) {
    this.#tree = tree;
    this.#changer = new YamlChanger(tree);
    this.#at = at;
    this.#steps = steps;
    this.#place = place;
  }

  set(index: number, field: string, value: SyntaxValue | undefined): ChangeResult {
    const read = readDottedPath(field, yamlPaths);
    if (read.kind === 'bad') return this.#changer.refuse.notDetermined(field, read.why, { start: 0, end: 0 });
    const steps = [...this.#steps, index, ...read.steps];
    const path = printDottedPath(steps, yamlPaths);
    const change = value === undefined ? ({ op: 'remove', path } as const) : ({ op: 'set', path, value } as const);
    return this.#changer.apply({ change, steps });
  }

  add(fields: ReadonlyMap<string, SyntaxValue>, before: number | undefined): ChangeResult {
    const members = nested(fields);
    if (members === undefined) {
      return this.#changer.refuse.notDetermined(this.#at, 'one of its fields is no name.', { start: 0, end: 0 });
    }
    const record: YamlValue = { kind: 'map', members };
    const hindrance = this.#changer.plan.cannotWrite(record);
    if (hindrance !== undefined) return this.#changer.result(this.#at, { start: 0, end: 0 }, hindrance);
    const place = this.#place;
    if (place.kind !== 'seq') {
      // Once for the list's place: the record itself can be written.
      const trial = new YamlRecordPlan(this.#tree, this.#at, this.#steps, place);
      trial.#made.push(record);
      const failed = this.#made.length > 0 ? undefined : trial.#finishMade();
      if (failed !== undefined) return this.#changer.result(this.#at, { start: 0, end: 0 }, failed);
      this.#made.push(record);
    } else {
      const after = (before ?? place.items.length) - 1;
      const failed = this.#changer.plan.insertItems(place.seq, after, [record], place.slot, true);
      if (failed !== undefined) return this.#changer.result(this.#at, { start: 0, end: 0 }, failed);
    }
    return { kind: 'changed' };
  }

  drop(index: number): ChangeResult {
    const place = this.#place;
    if (place.kind !== 'seq') return { kind: 'unchanged' };
    const hindrance = this.#changer.plan.dropRecord(place.seq, index, place.slot);
    return this.#changer.result(this.#at, place.items[index]?.span ?? { start: 0, end: 0 }, hindrance);
  }

  /** Writes a list that was not there. */
  #finishMade(): Hindrance {
    const place = this.#place;
    const list: YamlValue = { kind: 'list', items: this.#made };
    if (this.#made.length === 0) return undefined;
    if (place.kind === 'none') return this.#changer.plan.add(place.slot, place.below, place.rest, list);
    return place.kind === 'empty' ? this.#changer.plan.replace(place.slot, place.node, list) : undefined;
  }

  finish(): ReturnType<RecordPlan['finish']> {
    this.#finishMade();
    return this.#changer.plan.finish();
  }
}

/** Fields by dotted name as members of a mapping; undefined when a name is malformed or goes through a value. */
function nested(fields: ReadonlyMap<string, SyntaxValue>): readonly (readonly [string, YamlValue])[] | undefined {
  const members: [string, YamlValue][] = [];
  for (const [field, value] of fields) {
    const read = readDottedPath(field, yamlPaths);
    if (read.kind === 'bad') return undefined;
    const names = read.steps.filter((step) => typeof step === 'string');
    const [first] = names;
    if (names.length < read.steps.length || first === undefined || members.some(([name]) => name === first))
      return undefined;
    const inner = names
      .slice(1)
      .reduceRight<YamlValue>((inside, name) => ({ kind: 'map', members: [[name, inside]] }), asYaml(value));
    members.push([first, inner]);
  }
  return members;
}
