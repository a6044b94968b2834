import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import { sortEdits } from '../../text/text-edit.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import type { Change, Changed, ChangeResult, SyntaxValue } from '../contract.ts';
import { editContainer } from './edit-container.ts';
import type { NewEntry } from './edit-container.ts';
import { detectLayout, hasLineEnd } from './json-layout.ts';
import type { JsonLayout } from './json-layout.ts';
import { isList } from './json-node.ts';
import type { JsonContainer, JsonNode } from './json-node.ts';
import { arrayIndex, pointerSegments } from './json-pointer.ts';
import { valueOf } from './json-tree.ts';
import type { JsonTree } from './json-tree.ts';
import { deepestJson } from './read-json.ts';
import { sameItem, sameValue } from './same-json.ts';
import { changesOf, gatherWishes } from './wishes.ts';
import type { Wish } from './wishes.ts';
import { uncarried, writeMember, writeNew, writeScalar } from './write-json.ts';
import type { NewValue } from './write-json.ts';

const unchanged: ChangeResult = { kind: 'unchanged' };
const changed: ChangeResult = { kind: 'changed' };

/** Changes by pointer. Objects a path goes through are made; arrays grow only by the next index. */
export function changeJson(tree: JsonTree, changes: readonly Change[]): Changed {
  const results: ChangeResult[] = changes.map(() => unchanged);
  const asked: { change: Change; segments: readonly string[]; at: number }[] = [];
  const last = new Map(changes.map(({ path }, at) => [path, at]));
  changes.forEach((change, at) => {
    if (last.get(change.path) !== at) return;
    const segments = pointerSegments(change.path);
    const bad = segments === undefined ? undefined : change.op === 'set' ? uncarried(change.value) : undefined;
    if (segments === undefined || segments.length > deepestJson) results[at] = refuse(badPointer(tree, change.path));
    else if (bad !== undefined) results[at] = refuse(notLiteral(tree, change.path, bad));
    else asked.push({ change, segments, at });
  });
  const edits = new JsonEdits(tree, changes, results).all(gatherWishes(asked));
  return { edits, results };
}

export function refuse(finding: Finding): ChangeResult {
  return { kind: 'refused', finding };
}

export function badPointer(tree: JsonTree, path: string): Finding {
  return makeFinding('bad-key-path', {
    detail: `'${path}' is not a JSON pointer that names a place in ${tree.source.name}.`,
    wayOut: "Begin it with '/', write '~' in a name as '~0' and '/' as '~1'.",
    place: { source: tree.source, span: { start: 0, end: 0 } },
  });
}

export function notLiteral(tree: JsonTree, path: string, text: string): Finding {
  return makeFinding('value-not-carried', {
    detail: `${tree.source.name} is JSON, and '${text}' for '${path}' is no number, true, false or null.`,
    wayOut: 'Give it as text, or as a number that JSON knows (12, -0.5, 1e3).',
    place: { source: tree.source, span: tree.find(path)?.span ?? { start: 0, end: 0 } },
  });
}

export class JsonEdits {
  readonly #tree: JsonTree;
  readonly #changes: readonly Change[];
  readonly #results: ChangeResult[];
  readonly #layout: JsonLayout;
  readonly #edits: TextEdit[] = [];

  constructor(tree: JsonTree, changes: readonly Change[], results: ChangeResult[]) {
    this.#tree = tree;
    this.#changes = changes;
    this.#results = results;
    this.#layout = detectLayout(tree.source, tree.root, tree.style);
  }

  all(wish: Wish): readonly TextEdit[] {
    const { root } = this.#tree;
    if (root !== undefined) {
      if (wish.own !== undefined && wish.own.set === undefined)
        this.#refuseAll(wish, 'the whole text cannot be taken out', root);
      else this.#existing(root, wish, this.#layout.lines);
      return sortEdits(this.#edits);
    }
    const value = this.#make(wish, undefined);
    if (value === undefined) return [];
    const { eol } = this.#layout;
    const { head, source } = this.#tree;
    const before = /[^\ufeff]/.test(source.text.slice(0, head)) ? eol : '';
    const after = source.text.slice(head) === '' || before !== '' ? eol : '';
    return [
      {
        span: { start: head, end: head },
        text: before + writeNew(value, this.#layout, '') + (before !== '' && source.text.length > head ? '' : after),
      },
    ];
  }

  #refuseAll(wish: Wish, why: string, node: JsonNode | undefined): void {
    const { source } = this.#tree;
    for (const { at } of changesOf(wish)) {
      if (this.#changes[at]?.op === 'remove' && node?.kind !== 'object' && wish.own?.at !== at) continue;
      this.#results[at] = refuse(
        makeFinding('key-not-determined', {
          detail: `'${this.#changes[at]?.path ?? ''}' cannot be written to ${source.name}: ${why}.`,
          wayOut: 'Name a key that can be there, or put the part that is missing into the file by hand.',
          place: { source, span: { start: node?.start ?? 0, end: node?.end ?? 0 } },
        }),
      );
    }
  }

  /** A value that is there, at which something is asked. */
  #existing(node: JsonNode, wish: Wish, outerLines: boolean): void {
    const { own } = wish;
    if (own?.set !== undefined) this.#set(node, own.set, wish, own.at);
    else if (wish.below.size === 0) return;
    else if (node.kind === 'scalar') this.#refuseAll(wish, 'a value stands where the path goes on', node);
    else this.#within(node, wish.below, outerLines);
  }

  #set(node: JsonNode, asked: SyntaxValue, wish: Wish, at: number): void {
    const now = valueOf(node);
    if (now === undefined) {
      this.#refuseAll(wish, `an ${node.kind} stands there, which would be lost`, node);
      return;
    }
    const value = this.#withItems(asked, wish, now, node);
    if (sameValue(now, value)) return;
    if (!sameValue(now, asked)) this.#results[at] = changed;
    if (value.kind === 'list' && isList(node)) this.#setList(node, value.items);
    else
      this.#edits.push({
        span: { start: node.start, end: node.end },
        text: writeNew({ kind: 'leaf', value }, this.#layout, undefined),
      });
  }

  /** A list that is set, and items of it that are set after it. */
  #withItems(asked: SyntaxValue, wish: Wish, now: SyntaxValue, node: JsonNode): SyntaxValue {
    if (wish.below.size === 0) return asked;
    const items = asked.kind === 'list' ? [...asked.items] : [];
    for (const [segment, item] of wish.below) {
      const index = arrayIndex(segment);
      const set = item.own?.set;
      if (
        asked.kind !== 'list' ||
        set?.kind !== 'scalar' ||
        index === undefined ||
        index > items.length ||
        item.below.size > 0
      ) {
        this.#refuseAll(item, 'a value is set where the path goes on', node);
        continue;
      }
      const before = now.kind === 'list' ? now.items[index] : undefined;
      items[index] = set.literal === true ? { text: set.text, literal: true } : { text: set.text };
      if (item.own !== undefined && (before === undefined || !sameItem(before, set)))
        this.#results[item.own.at] = changed;
    }
    return asked.kind === 'list' ? { kind: 'list', items } : asked;
  }

  /** Only the items that differ are touched: those before and after, and the comments between, stay. */
  #setList(list: JsonContainer, items: readonly { readonly text: string; readonly literal?: boolean }[]): void {
    const old = list.entries.map(({ value }) => value);
    const same = (
      a: JsonNode | undefined,
      b: { readonly text: string; readonly literal?: boolean } | undefined,
    ): boolean => a?.kind === 'scalar' && b !== undefined && sameItem(a, b);
    const most = Math.min(old.length, items.length);
    let head = 0;
    while (head < most && same(old[head], items[head])) head += 1;
    let tail = 0;
    while (tail < most - head && same(old.at(-1 - tail), items.at(-1 - tail))) tail += 1;
    const common = most - head - tail;
    for (let k = head; k < head + common; k++) {
      const [from, to] = [old[k], items[k]];
      if (from !== undefined && to !== undefined && !same(from, to))
        this.#edits.push({ span: { start: from.start, end: from.end }, text: writeScalar(to) });
    }
    const removed = new Set<number>();
    for (let k = head + common; k < old.length - tail; k++) removed.add(k);
    const added = items.slice(head + common, items.length - tail).map(
      (item): NewEntry =>
        () =>
          writeScalar(item),
    );
    this.#container(list, removed, new Map([[head + common - 1, added]]), this.#layout.listLines);
  }

  #container(
    container: JsonContainer,
    removed: ReadonlySet<number>,
    inserted: ReadonlyMap<number, readonly NewEntry[]>,
    lines: boolean,
  ): void {
    this.#edits.push(...editContainer(this.#tree.source, container, { removed, inserted, lines }, this.#layout));
  }

  #within(container: JsonContainer, below: ReadonlyMap<string, Wish>, outerLines: boolean): void {
    const first = container.entries[0];
    const lines =
      first === undefined ? outerLines : hasLineEnd(this.#tree.source.text.slice(first.blankStart, first.start));
    const removed = new Set<number>();
    const gone = new Set<string>();
    const inserted = new Map<number, NewEntry[]>();
    let added = 0;
    for (const [segment, wish] of below) {
      const index = this.#tree.position(container, segment);
      const entry = container.entries[index];
      if (entry !== undefined && wish.own !== undefined && wish.own.set === undefined) {
        this.#results[wish.own.at] = changed;
        const replaced = this.#make(wish, entry.value);
        if (replaced !== undefined) {
          const text = writeNew(replaced, this.#layout, undefined);
          this.#edits.push({ span: { start: entry.value.start, end: entry.value.end }, text });
        } else if (container.kind === 'array') removed.add(index);
        else gone.add(segment);
      } else if (entry !== undefined) {
        this.#existing(entry.value, wish, lines);
      } else if (container.kind === 'array' && arrayIndex(segment) !== container.entries.length + added) {
        this.#refuseAll(wish, 'an array can only be given its next item', container);
      } else {
        const value = this.#make(wish, container);
        if (value === undefined) continue;
        const after = wish.after ?? container.entries.length - 1;
        const write = this.#entryWriter(container, segment, value);
        const group = inserted.get(after);
        if (group === undefined) inserted.set(after, [write]);
        else group.push(write);
        added += 1;
      }
    }
    // Of several members with one name none may stay, or it would count.
    if (gone.size > 0)
      container.entries.forEach(({ name }, k) => name !== undefined && gone.has(name) && removed.add(k));
    if (removed.size > 0 || added > 0) this.#container(container, removed, inserted, lines);
  }

  /** Objects in an array are written as the one before them is: over lines, or on one. */
  #entryWriter(container: JsonContainer, name: string, value: NewValue): NewEntry {
    if (container.kind === 'object') return (indent) => writeMember(name, value, this.#layout, indent);
    const model = container.entries.at(-1)?.value;
    const first = model !== undefined && model.kind === 'object' ? model.entries[0] : undefined;
    const oneLine = first !== undefined && !hasLineEnd(this.#tree.source.text.slice(first.blankStart, first.start));
    return (indent) => writeNew(value, this.#layout, oneLine ? undefined : indent);
  }

  /** A value that is not there yet. Undefined where nothing is set in it. */
  #make(wish: Wish, parent: JsonNode | undefined): NewValue | undefined {
    const { own } = wish;
    if (own?.set !== undefined) {
      this.#refuseAll({ own: undefined, below: wish.below }, 'a value is set where the path goes on', parent);
      this.#results[own.at] = changed;
      return { kind: 'leaf', value: own.set };
    }
    if (wish.isArray === true) {
      const items = [...wish.below.values()].map((item) => this.#make(item, parent));
      const made = items.filter((item) => item !== undefined);
      return made.length === 0 ? undefined : { kind: 'array', items: made };
    }
    const members = new Map<string, NewValue>();
    for (const [segment, next] of wish.below) {
      if (arrayIndex(segment) !== undefined) {
        this.#refuseAll(next, `what holds '${segment}' is missing, and may be an array or an object`, parent);
        continue;
      }
      const member = this.#make(next, parent);
      if (member !== undefined) members.set(segment, member);
    }
    return members.size === 0 ? undefined : { kind: 'object', members };
  }
}
