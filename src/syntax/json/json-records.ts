import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type {
  Change,
  Changed,
  ChangeResult,
  RecordChange,
  RecordPlace,
  RecordSyntax,
  SyntaxValue,
  Tree,
} from '../contract.ts';
import type { Span } from '../../text/span.ts';
import { sortedPlace } from '../shared/record-order.ts';
import { badPointer, JsonEdits, notLiteral, refuse } from './change-json.ts';
import type { JsonContainer, JsonNode } from './json-node.ts';
import { badJsonPointer, pointerSegments } from './json-pointer.ts';
import { JsonTree, valueOf } from './json-tree.ts';
import { newWish, wishBelow } from './wishes.ts';
import type { Wish } from './wishes.ts';
import { uncarried } from './write-json.ts';

/**
 * Records are objects in an array: `at` is a pointer to the array, a field a pointer from an object, its first '/'
 * left out or not. A new record is written as the last one is. Of several with one field value, `put` and `drop` are
 * refused unless the style's `duplicates` is first or last; then `drop` takes all of them.
 */
export const jsonRecords: RecordSyntax = {
  badAt: badJsonPointer,
  badField: (field) => badJsonPointer(field.startsWith('/') ? field : `/${field}`),
  list(tree, at, fields) {
    return listRecords(JsonTree.of(tree), at, fields);
  },
  change(tree: Tree, at, changes) {
    return new JsonRecordChanges(JsonTree.of(tree), at, changes).run();
  },
};

function fieldSegments(field: string): readonly string[] | undefined {
  return pointerSegments(field.startsWith('/') ? field : `/${field}`);
}

function arrayAt(tree: JsonTree, at: string): JsonNode | undefined {
  const segments = pointerSegments(at);
  return segments === undefined ? undefined : tree.below(tree.root, segments);
}

/** A field's value; items of a list and anything that is no scalar are none. */
function fieldNode(tree: JsonTree, record: JsonNode, field: string): (JsonNode & { kind: 'scalar' }) | undefined {
  const segments = fieldSegments(field);
  const node = segments === undefined ? undefined : tree.below(record, segments);
  return node?.kind === 'scalar' ? node : undefined;
}

function fieldText(tree: JsonTree, record: JsonNode, field: string): string | undefined {
  return fieldNode(tree, record, field)?.text;
}

function listRecords(tree: JsonTree, at: string, fields: readonly string[]): readonly RecordPlace[] {
  const array = arrayAt(tree, at);
  if (array?.kind !== 'array') return [];
  return array.entries.flatMap(({ value }) => {
    if (value.kind !== 'object') return [];
    const texts = new Map<string, string>();
    const places = new Map<string, Span>();
    for (const field of fields) {
      const node = fieldNode(tree, value, field);
      if (node === undefined) continue;
      texts.set(field, node.text);
      places.set(field, { start: node.start, end: node.end });
    }
    return [{ span: { start: value.start, end: value.end }, fields: texts, places }];
  });
}

type Found = { readonly index: number; readonly node: JsonNode | undefined };

class JsonRecordChanges {
  readonly #tree: JsonTree;
  readonly #at: string;
  readonly #changes: readonly RecordChange[];
  readonly #results: ChangeResult[];
  readonly #root = newWish();
  readonly #found = new Map<string, Map<string, Found[]>>();
  readonly #sorted = new Map<string, (value: string) => number>();
  #array: JsonContainer | undefined;
  #list: Wish = newWish();
  #next = 0;

  constructor(tree: JsonTree, at: string, changes: readonly RecordChange[]) {
    this.#tree = tree;
    this.#at = at;
    this.#changes = changes;
    this.#results = changes.map(() => ({ kind: 'unchanged' }));
  }

  run(): Changed {
    const segments = pointerSegments(this.#at);
    const array = arrayAt(this.#tree, this.#at);
    if (segments === undefined) return this.#refuseAll(badPointer(this.#tree, this.#at));
    if (array !== undefined && array.kind !== 'array')
      return this.#refuseAll(
        this.#finding(
          this.#at,
          `an ${array.kind === 'object' ? 'object' : 'other value'} stands where an array of records is due`,
          array,
        ),
      );
    this.#array = array;
    this.#next = array?.entries.length ?? 0;
    this.#list = wishBelow(this.#root, segments);
    this.#list.isArray = true;
    this.#changes.forEach((change, at) => {
      const finding = change.op === 'put' ? this.#put(change, at) : this.#drop(change, at);
      if (finding !== undefined) this.#results[at] = refuse(finding);
    });
    this.#order();
    const asked = this.#changes.map((change): Change => {
      const path = `${this.#at}[${change.by}=${change.is}]`;
      return change.op === 'drop'
        ? { op: 'remove', path }
        : { op: 'set', path, value: { kind: 'scalar', text: change.is } };
    });
    const edits = new JsonEdits(this.#tree, asked, this.#results).all(this.#root);
    return { edits, results: this.#results };
  }

  #refuseAll(finding: Finding): Changed {
    return { edits: [], results: this.#changes.map(() => refuse(finding)) };
  }

  #finding(path: string, why: string, node?: JsonNode): Finding {
    const { source } = this.#tree;
    return makeFinding('key-not-determined', {
      detail: `'${path}' cannot be written to ${source.name}: ${why}.`,
      wayOut: 'Name a key that can be there, or put the part that is missing into the file by hand.',
      place: { source, span: { start: node?.start ?? 0, end: node?.end ?? 0 } },
    });
  }

  /** Records by the text of one field. */
  #by(field: string): Map<string, Found[]> {
    let index = this.#found.get(field);
    if (index === undefined) {
      this.#found.set(field, (index = new Map<string, Found[]>()));
      for (const [position, { value }] of (this.#array?.entries ?? []).entries()) {
        const text = value.kind === 'object' ? fieldText(this.#tree, value, field) : undefined;
        if (text === undefined) continue;
        const same = index.get(text);
        const found = { index: position, node: value };
        if (same === undefined) index.set(text, [found]);
        else same.push(found);
      }
    }
    return index;
  }

  #ambiguous({ by, is }: RecordChange, found: readonly Found[]): Finding | undefined {
    const { duplicates } = this.#tree.style;
    const { source } = this.#tree;
    const second = found[1]?.node;
    if (found.length < 2 || duplicates === 'first' || duplicates === 'last') return undefined;
    return makeFinding('key-ambiguous', {
      detail: `${found.length} records at '${this.#at}' in ${source.name} have '${is}' as '${by}'.`,
      wayOut:
        'Take all but one of them out by hand, or say `duplicates: first` or `duplicates: last` in the style of the file.',
      place: { source, span: { start: second?.start ?? 0, end: second?.end ?? 0 } },
    });
  }

  #put(change: RecordChange & { op: 'put' }, at: number): Finding | undefined {
    const by = fieldSegments(change.by);
    if (by === undefined) return badPointer(this.#tree, change.by);
    const fields: { readonly name: string; readonly segments: readonly string[]; readonly value: SyntaxValue }[] = [];
    const out: (readonly string[])[] = [];
    for (const [name, value] of change.fields) {
      const segments = fieldSegments(name);
      if (segments === undefined) return badPointer(this.#tree, name);
      if (value === undefined) {
        out.push(segments);
        continue;
      }
      const bad = uncarried(value);
      if (bad !== undefined) return notLiteral(this.#tree, name, bad);
      fields.push({ name, segments, value });
    }
    const all = new Set([change.by, ...change.fields.keys()].map((name) => `${name.replace(/^\//, '')}/`));
    for (const name of all) {
      for (let slash = name.indexOf('/'); slash >= 0 && slash < name.length - 1; slash = name.indexOf('/', slash + 1)) {
        if (all.has(name.slice(0, slash + 1)))
          return this.#finding(name.slice(0, -1), 'another field of the record stands where it goes on');
      }
    }
    const index = this.#by(change.by);
    const there = index.get(change.is) ?? [];
    const ambiguous = this.#ambiguous(change, there);
    if (ambiguous !== undefined) return ambiguous;
    const found = there.at(this.#tree.style.duplicates === 'last' ? -1 : 0);
    const blocked = fields
      .map(({ name, segments }) => this.#blocked(name, found?.node, segments))
      .find((finding) => finding !== undefined);
    if (blocked !== undefined) return blocked;
    if (found === undefined && fields.length === 0 && out.length > 0) return undefined;
    const position = found?.index ?? this.#next++;
    const record = wishBelow(this.#list, [String(position)]);
    if (found === undefined) {
      index.set(change.is, [{ index: position, node: undefined }]);
      record.after = this.#place(change);
      wishBelow(record, by).own = { at, set: { kind: 'scalar', text: change.is } };
    }
    for (const { segments, value } of fields) wishBelow(record, segments).own = { at, set: value };
    for (const segments of out) {
      if (found?.node !== undefined && this.#tree.below(found.node, segments) !== undefined)
        wishBelow(record, segments).own = { at, set: undefined };
    }
    return undefined;
  }

  /** Why a field has no place in a record. */
  #blocked(name: string, record: JsonNode | undefined, segments: readonly string[]): Finding | undefined {
    let node = record;
    for (const segment of segments) {
      if (node?.kind === 'scalar' || node?.kind === 'array')
        return this.#finding(name, 'a value stands where the path goes on', node);
      if (node === undefined && /^[0-9]+$/.test(segment))
        return this.#finding(name, `what holds '${segment}' is missing, and may be an array or an object`, record);
      node = node === undefined ? undefined : node.entries[this.#tree.position(node, segment)]?.value;
    }
    if (node === undefined || node.kind === 'scalar' || node.entries.length === 0 || valueOf(node) !== undefined)
      return undefined;
    return this.#finding(name, `an ${node.kind} with values of its own stands there, and they would be lost`, node);
  }

  #place({ by, is }: RecordChange): number {
    const entries = this.#array?.entries ?? [];
    const { siblings } = this.#tree.style;
    if (siblings === 'start') return -1;
    if (siblings !== 'sorted') return entries.length - 1;
    let sorted = this.#sorted.get(by);
    if (sorted === undefined) {
      sorted = sortedPlace(entries.map(({ value }) => fieldText(this.#tree, value, by) ?? ''));
      this.#sorted.set(by, sorted);
    }
    return sorted(is) - 1;
  }

  #drop(change: RecordChange, at: number): Finding | undefined {
    if (fieldSegments(change.by) === undefined) return badPointer(this.#tree, change.by);
    const index = this.#by(change.by);
    const found = index.get(change.is) ?? [];
    const ambiguous = this.#ambiguous(change, found);
    if (ambiguous !== undefined) return ambiguous;
    for (const { index: position, node } of found) {
      if (node === undefined) this.#list.below.delete(String(position));
      else {
        const record = wishBelow(this.#list, [String(position)]);
        record.below.clear();
        record.own = { at, set: undefined };
      }
    }
    index.delete(change.is);
    return undefined;
  }

  /** New records are numbered without gaps, and several that go to one place are sorted where the style says so. */
  #order(): void {
    const { below } = this.#list;
    const length = this.#array?.entries.length ?? 0;
    const added = [...below].filter(([name]) => Number(name) >= length);
    if (added.length === 0) return;
    const is = ([, wish]: [string, Wish]): string => {
      const at = wish.after === undefined ? undefined : [...wish.below.values()][0]?.own?.at;
      return at === undefined ? '' : (this.#changes[at]?.is ?? '');
    };
    if (this.#tree.style.siblings === 'sorted') added.sort((a, b) => (is(a) < is(b) ? -1 : is(a) > is(b) ? 1 : 0));
    for (const [name] of added) below.delete(name);
    added.forEach(([, wish], order) => below.set(String(length + order), wish));
  }
}
