import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { isList } from './json-node.ts';
import type { JsonContainer, JsonEntry, JsonNode } from './json-node.ts';
import { arrayIndex, pointerSegment, pointerSegments } from './json-pointer.ts';

/** A JSON text with its values. Of members with one name the last counts, as for every common reader. */
export class JsonTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly root: JsonNode | undefined;
  /** Where text of ours goes when there is no root: after leading comments. */
  readonly head: number;
  readonly #names = new WeakMap<JsonContainer, ReadonlyMap<string, number>>();

  constructor(source: SourceText, style: Style, root: JsonNode | undefined, head: number) {
    this.source = source;
    this.style = style;
    this.root = root;
    this.head = head;
  }

  /** The tree of a text that `json.parse` read. */
  static of(tree: Tree): JsonTree {
    if (tree instanceof JsonTree) return tree;
    throw new Error('A tree of another syntax was given to json. This is a bug in thumbwright.');
  }

  /** The position in `container.entries` that a segment names, or -1. */
  position(container: JsonContainer, segment: string): number {
    if (container.kind === 'array') {
      const index = arrayIndex(segment);
      return index !== undefined && index < container.entries.length ? index : -1;
    }
    let names = this.#names.get(container);
    if (names === undefined) {
      names = new Map(container.entries.map((entry, index) => [entry.name ?? '', index]));
      this.#names.set(container, names);
    }
    return names.get(segment) ?? -1;
  }

  #locate(path: string): { readonly node: JsonNode; readonly entry: JsonEntry | undefined } | undefined {
    const segments = pointerSegments(path);
    let node = this.root;
    let entry: JsonEntry | undefined;
    if (segments === undefined) return undefined;
    for (const segment of segments) {
      if (node === undefined || node.kind === 'scalar') return undefined;
      entry = node.entries[this.position(node, segment)];
      node = entry?.value;
    }
    return node === undefined ? undefined : { node, entry };
  }

  /** The value at these segments below a value, or undefined. */
  below(from: JsonNode | undefined, segments: readonly string[]): JsonNode | undefined {
    let node = from;
    for (const segment of segments) {
      if (node === undefined || node.kind === 'scalar') return undefined;
      node = node.entries[this.position(node, segment)]?.value;
    }
    return node;
  }

  get(path: string): SyntaxValue | undefined {
    const found = this.#locate(path);
    return found === undefined ? undefined : valueOf(found.node);
  }

  find(path: string): KeyPlace | undefined {
    const found = this.#locate(path);
    if (found === undefined || valueOf(found.node) === undefined) return undefined;
    return keyPlace(path, found.node, found.entry);
  }

  keys(): readonly KeyPlace[] {
    const keys: KeyPlace[] = [];
    const walk = (node: JsonNode, path: string, entry: JsonEntry | undefined): void => {
      if (node.kind === 'scalar' || isList(node)) keys.push(keyPlace(path, node, entry));
      if (node.kind === 'scalar') return;
      node.entries.forEach((child, index) => {
        const name = child.name ?? String(index);
        if (node.kind === 'object' && this.position(node, name) !== index) return;
        walk(child.value, `${path}/${pointerSegment(name)}`, child);
      });
    };
    if (this.root !== undefined) walk(this.root, '', undefined);
    return keys;
  }
}

function keyPlace(path: string, node: JsonNode, entry: JsonEntry | undefined): KeyPlace {
  const valueSpan = { start: node.start, end: node.end };
  return { path, span: { start: entry?.start ?? node.start, end: node.end }, valueSpan };
}

/** A scalar, or an array of scalars as a list; undefined for anything else. */
export function valueOf(node: JsonNode): SyntaxValue | undefined {
  if (node.kind === 'scalar') return { kind: 'scalar', text: node.text, ...(node.literal ? { literal: true } : {}) };
  if (!isList(node)) return undefined;
  const items = node.entries.map(({ value }) =>
    value.kind === 'scalar' && value.literal
      ? { text: value.text, literal: true }
      : { text: value.kind === 'scalar' ? value.text : '' },
  );
  return { kind: 'list', items };
}
