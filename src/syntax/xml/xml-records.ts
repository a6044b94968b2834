import type { Changed, ChangeResult, RecordChange, RecordPlace, RecordSyntax } from '../contract.ts';
import type { Span } from '../../text/span.ts';
import { sortedPlace } from '../shared/record-order.ts';
import { badXmlPath } from './change-xml.ts';
import { editXml } from './edit-xml.ts';
import { XmlChanger } from './xml-changer.ts';
import type { Refusal } from './xml-changer.ts';
import type { XmlElement } from './xml-node.ts';
import { elementOf, XmlOverlay } from './xml-overlay.ts';
import type { AnyElement } from './xml-overlay.ts';
import { readXmlPath } from './xml-path.ts';
import type { XmlPath, XmlStep } from './xml-path.ts';
import { XmlTree } from './xml-tree.ts';

/**
 * Records are the elements that `at` names; a field is a path from one: `path`, `@id`, `meta/loved`, or `.` for its own
 * text. Of several with one field value, `put` and `drop` are refused unless the style's `duplicates` is first or last;
 * then `drop` takes all of them.
 */
export const xmlRecords: RecordSyntax = {
  badAt(at) {
    const read = readXmlPath(at);
    if (!('path' in read)) return read.wrong;
    return read.path.attribute === undefined ? undefined : 'it names an attribute, and records are elements';
  },
  badField(field) {
    const read = readXmlPath(field, true);
    return 'path' in read ? undefined : read.wrong;
  },
  list(tree, at, fields) {
    return listRecords(XmlTree.of(tree), at, fields);
  },
  change(tree, at, changes) {
    const of = XmlTree.of(tree);
    const read = readXmlPath(at);
    const wrong =
      'wrong' in read ? read.wrong : read.path.attribute === undefined ? undefined : 'it names an attribute';
    if (wrong !== undefined || !('path' in read)) {
      return { edits: [], results: changes.map(() => ({ kind: 'refused', finding: badXmlPath(of, at, wrong ?? '') })) };
    }
    return new XmlRecordChanges(of, at, read.path.steps).run(changes);
  },
};

function listRecords(tree: XmlTree, at: string, fields: readonly string[]): readonly RecordPlace[] {
  const read = readXmlPath(at);
  if (!('path' in read) || read.path.attribute !== undefined) return [];
  const paths = fields.map((field) => ({ field, read: readXmlPath(field, true) }));
  return tree.targets(tree.document, read.path).map(({ element }) => {
    const texts = new Map<string, string>();
    const places = new Map<string, Span>();
    for (const { field, read } of paths) {
      const text = 'path' in read ? fieldText(tree, element, read.path) : undefined;
      if (text === undefined || !('path' in read)) continue;
      texts.set(field, text);
      const target = fieldTarget(tree, element, read.path);
      const holder = target?.element ?? element;
      // An attribute stands in the opening tag of its element.
      places.set(field, { start: holder.start, end: read.path.attribute === undefined ? holder.end : holder.openEnd });
    }
    return { span: { start: element.start, end: element.end }, fields: texts, places };
  });
}

function fieldTarget(
  tree: XmlTree,
  element: XmlElement,
  path: XmlPath,
): ReturnType<XmlTree['targets']>[number] | undefined {
  return tree.targets(element, path).at(tree.style.duplicates === 'last' ? -1 : 0);
}

/** The field's text; of several the last where the style says so, else the first. */
function fieldText(tree: XmlTree, element: XmlElement, path: XmlPath): string | undefined {
  const target = fieldTarget(tree, element, path);
  if (target !== undefined) return tree.value(target);
  if (path.steps.length > 0) return undefined;
  if (path.attribute === undefined) return tree.text(element);
  const attribute = tree.attribute(element, path.attribute);
  return attribute === undefined ? undefined : tree.attributeValue(attribute);
}

class XmlRecordChanges {
  readonly #tree: XmlTree;
  readonly #at: string;
  readonly #overlay: XmlOverlay;
  readonly #changer: XmlChanger;
  readonly #parents: readonly XmlStep[];
  readonly #step: XmlStep;
  readonly #records: readonly XmlElement[];
  readonly #indexes = new Map<string, Map<string, AnyElement[]>>();
  readonly #sorted = new Map<string, (value: string) => number>();
  readonly #keys = new Map<AnyElement, string>();

  constructor(tree: XmlTree, at: string, steps: readonly XmlStep[]) {
    this.#tree = tree;
    this.#at = at;
    this.#overlay = new XmlOverlay(tree);
    this.#changer = new XmlChanger(this.#overlay);
    this.#parents = steps.slice(0, -1);
    this.#step = steps.at(-1) ?? { name: '', tests: [] };
    this.#records = tree.targets(tree.document, { steps, attribute: undefined }).map(({ element }) => element);
  }

  run(changes: readonly RecordChange[]): Changed {
    const results = changes.map((change): ChangeResult => {
      const read = readXmlPath(change.by, true);
      if (!('path' in read)) return { kind: 'refused', finding: badXmlPath(this.#tree, change.by, read.wrong) };
      return this.#changer.result(change.op === 'put' ? this.#put(change, read.path) : this.#drop(change, read.path));
    });
    if (this.#tree.style.siblings === 'sorted') {
      const key = (element: AnyElement): string => this.#keys.get(element) ?? '';
      for (const added of this.#overlay.additions.values()) {
        added.sort((a, b) => (key(a.element) < key(b.element) ? -1 : key(a.element) > key(b.element) ? 1 : 0));
      }
    }
    return { edits: editXml(this.#overlay), results };
  }

  #by(field: string, path: XmlPath): Map<string, AnyElement[]> {
    let index = this.#indexes.get(field);
    if (index === undefined) {
      this.#indexes.set(field, (index = new Map<string, AnyElement[]>()));
      for (const record of this.#records) {
        const text = fieldText(this.#tree, record, path);
        if (text === undefined || this.#overlay.removed.has(record)) continue;
        const same = index.get(text);
        if (same === undefined) index.set(text, [record]);
        else same.push(record);
      }
    }
    return index;
  }

  #ambiguous({ by, is }: RecordChange, found: readonly AnyElement[]): Refusal {
    const { duplicates } = this.#tree.style;
    if (found.length < 2 || duplicates === 'first' || duplicates === 'last') return undefined;
    return this.#changer.finding(
      'key-ambiguous',
      this.#at,
      `${found.length} records have '${is}' as '${by}'`,
      'Take all but one of them out by hand, or say `duplicates: first` or `duplicates: last` in the style of the file.',
      found[1],
    );
  }

  #put(change: RecordChange & { op: 'put' }, by: XmlPath): Refusal {
    const index = this.#by(change.by, by);
    const there = index.get(change.is) ?? [];
    const ambiguous = this.#ambiguous(change, there);
    if (ambiguous !== undefined) return ambiguous;
    const fields: { readonly name: string; readonly path: XmlPath }[] = [];
    for (const name of change.fields.keys()) {
      const read = readXmlPath(name, true);
      if (!('path' in read)) return badXmlPath(this.#tree, name, read.wrong);
      fields.push({ name, path: read.path });
    }
    const empties = fields.length > 0 && [...change.fields.values()].every((value) => value === undefined);
    if (there.length === 0 && empties) return undefined;
    const record = there.at(this.#tree.style.duplicates === 'last' ? -1 : 0) ?? this.#add(change, by, fields);
    if ('code' in record) return record;
    if (there.length === 0) {
      index.set(change.is, [record]);
      this.#keys.set(record, change.is);
      return undefined;
    }
    return this.#setAll(record, change, fields);
  }

  /** All fields or, where one is refused, none. */
  #setAll(
    record: AnyElement,
    change: RecordChange & { op: 'put' },
    fields: readonly { readonly name: string; readonly path: XmlPath }[],
  ): Refusal {
    // A text is set where another field needs an element: found before anything is changed.
    const stands = fields.find(({ name, path }) => {
      if (path.attribute !== undefined) return false;
      const below = name === '.' ? '' : `${name}/`;
      return fields.some(
        (other) => other.name !== name && other.path.steps.length > path.steps.length && other.name.startsWith(below),
      );
    });
    if (stands !== undefined) {
      return this.#changer.finding(
        'key-not-determined',
        stands.name,
        'another field of the record goes on from it',
        'Leave one of the two fields out.',
      );
    }
    for (const write of ['check', 'set'] as const) {
      for (const { name, path } of fields) {
        const value = change.fields.get(name);
        const refusal =
          value !== undefined
            ? this.#changer[write](record, path, value, name)
            : write === 'set'
              ? this.#changer.remove(path, name, record)
              : undefined;
        if (refusal !== undefined) return refusal;
      }
    }
    return undefined;
  }

  /** A new record, or why there can be none. */
  #add(
    change: RecordChange & { op: 'put' },
    by: XmlPath,
    fields: readonly { readonly name: string; readonly path: XmlPath }[],
  ): AnyElement | Exclude<Refusal, undefined> {
    const record = elementOf(this.#step);
    const refusal =
      this.#changer.set(record, by, { kind: 'scalar', text: change.is }, change.by) ??
      this.#setAll(record, change, fields) ??
      this.#changer.put(record, this.#parents, this.#step, this.#before(change, by), this.#at);
    return refusal ?? record;
  }

  #before(change: RecordChange, by: XmlPath): XmlElement | undefined {
    const { siblings } = this.#tree.style;
    if (siblings === 'start') return this.#records[0];
    if (siblings !== 'sorted') return undefined;
    let sorted = this.#sorted.get(change.by);
    if (sorted === undefined) {
      sorted = sortedPlace(this.#records.map((record) => fieldText(this.#tree, record, by) ?? ''));
      this.#sorted.set(change.by, sorted);
    }
    return this.#records[sorted(change.is)];
  }

  #drop(change: RecordChange, by: XmlPath): Refusal {
    const index = this.#by(change.by, by);
    const found = index.get(change.is) ?? [];
    const ambiguous = this.#ambiguous(change, found);
    if (ambiguous !== undefined) return ambiguous;
    for (const record of found) {
      const parent = record.kind === 'element' ? record.parent : this.#parentOf(record);
      const refusal = parent === undefined ? undefined : this.#changer.removeElement(parent, record, this.#at);
      if (refusal !== undefined) return refusal;
    }
    index.delete(change.is);
    return undefined;
  }

  #parentOf(record: AnyElement): ReturnType<XmlOverlay['steps']>[number] | undefined {
    return this.#overlay
      .steps(this.#tree.document, this.#parents)
      .find((parent) => this.#overlay.step(parent, this.#step).includes(record));
  }
}
