import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { printDottedPath, readDottedPath, yamlPaths } from '../shared/dotted-path.ts';
import type { ParsedPath, PathStep } from '../shared/dotted-path.ts';
import { lineEndAfter } from '../shared/line-plan.ts';
import type { YamlDocument, YamlItem, YamlMap, YamlNode, YamlPair, YamlScalar, YamlSeq } from './yaml-model.ts';

/** Where a node hangs. */
export type YamlSlot =
  | { readonly kind: 'root' }
  | { readonly kind: 'pair'; readonly map: YamlMap; readonly pair: YamlPair; readonly above: YamlSlot }
  | {
      readonly kind: 'item';
      readonly seq: YamlSeq;
      readonly item: YamlItem;
      readonly index: number;
      readonly above: YamlSlot;
    };

/**
 * Where a path leads. `shared`: the way goes through an alias, or into a node that aliases name.
 * `ambiguous`: two keys of one mapping have the name.
 */
export type YamlFound =
  | { readonly kind: 'found'; readonly node: YamlNode; readonly slot: YamlSlot; readonly shared: boolean }
  | {
      readonly kind: 'missing';
      readonly below: YamlNode | undefined;
      readonly slot: YamlSlot;
      readonly rest: readonly PathStep[];
      readonly shared: boolean;
    }
  | { readonly kind: 'ambiguous'; readonly map: YamlMap };

/** As `readDottedPath`; `.` alone is the whole document, where it is one value. */
export function readYamlPath(path: string): ParsedPath {
  return path === '.' ? { kind: 'path', steps: [] } : readDottedPath(path, yamlPaths);
}

const printYamlPath = (steps: readonly PathStep[]): string =>
  steps.length === 0 ? '.' : printDottedPath(steps, yamlPaths);

/** What an alias stands for, else the node itself. */
export function resolved(node: YamlNode): Exclude<YamlNode, { kind: 'alias' }> {
  // An alias names a node, never another alias.
  return node.kind === 'alias' ? resolved(node.target) : node;
}

const lists = new WeakMap<YamlSeq, readonly YamlScalar[] | 'none'>();

/** The scalars of a sequence that is read as one list; undefined for any other node. */
export function listOf(node: YamlNode): readonly YamlScalar[] | undefined {
  const seq = resolved(node);
  if (seq.kind !== 'seq') return undefined;
  // Kept, since many aliases may name one long list.
  let list = lists.get(seq);
  if (list === undefined) lists.set(seq, (list = readList(seq) ?? 'none'));
  return list === 'none' ? undefined : list;
}

function readList(seq: YamlSeq): readonly YamlScalar[] | undefined {
  const items: YamlScalar[] = [];
  for (const { value } of seq.items) {
    const item = resolved(value);
    if (item.kind !== 'scalar') return undefined;
    items.push(item);
  }
  return items;
}

/** A parsed YAML text: the first document of it. */
export class YamlTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly document: YamlDocument;
  #keys: readonly KeyPlace[] | undefined;

  constructor(source: SourceText, style: Style, document: YamlDocument) {
    this.source = source;
    this.style = style;
    this.document = document;
  }

  /**
   * Scalars and lists of scalars. `get` also names items of such a list (`sizes[0]`) and keys read through an alias;
   * they are not listed here.
   */
  keys(): readonly KeyPlace[] {
    return (this.#keys ??= listKeys(this.document.root, (steps, node, slot) => this.#place(steps, node, slot)));
  }

  get(path: string): SyntaxValue | undefined {
    const found = this.#at(path);
    return found?.kind === 'found' ? valueOf(found.node) : undefined;
  }

  find(path: string): KeyPlace | undefined {
    const read = readYamlPath(path);
    const found = this.#at(path);
    if (read.kind === 'bad' || found?.kind !== 'found' || valueOf(found.node) === undefined) return undefined;
    return this.#place(read.steps, found.node, found.slot);
  }

  walk(steps: readonly PathStep[]): YamlFound {
    let node = this.document.root;
    let slot: YamlSlot = { kind: 'root' };
    let shared = node?.shared ?? false;
    if (node === undefined) return { kind: 'missing', below: undefined, slot, rest: steps, shared };
    for (const [k, step] of steps.entries()) {
      if (node.kind === 'alias') shared = true;
      const holder = resolved(node);
      let next: YamlNode | undefined;
      if (typeof step === 'string' && holder.kind === 'map') {
        const pair = holder.members.get(step);
        if (pair === undefined && holder.members.has(step)) return { kind: 'ambiguous', map: holder };
        if (pair !== undefined) {
          next = pair.value;
          slot = { kind: 'pair', map: holder, pair, above: slot };
        }
      } else if (typeof step === 'number' && holder.kind === 'seq') {
        const item = holder.items[step];
        if (item !== undefined) {
          next = item.value;
          slot = { kind: 'item', seq: holder, item, index: step, above: slot };
        }
      }
      if (next === undefined) return { kind: 'missing', below: node, slot, rest: steps.slice(k), shared };
      node = next;
      shared ||= node.shared;
    }
    return { kind: 'found', node, slot, shared };
  }

  /** A list on lines of its own takes in the whole of its last line: items go and come as lines. */
  #place(steps: readonly PathStep[], node: YamlNode, slot: YamlSlot): KeyPlace {
    const span = slot.kind === 'pair' ? slot.pair.span : slot.kind === 'item' ? slot.item.span : node.span;
    const lines = node.kind === 'seq' && node.layout === 'block';
    const end = lines ? lineEndAfter(this.source.text, span.end) : span.end;
    return { path: printYamlPath(steps), span: { start: span.start, end }, valueSpan: node.span };
  }

  #at(path: string): YamlFound | undefined {
    const read = readYamlPath(path);
    return read.kind === 'bad' ? undefined : this.walk(read.steps);
  }
}

export function valueOf(node: YamlNode): SyntaxValue | undefined {
  const own = resolved(node);
  if (own.kind === 'scalar') return { kind: 'scalar', ...textOf(own) };
  const items = listOf(own);
  return items === undefined ? undefined : { kind: 'list', items: items.map(textOf) };
}

function textOf({ text, literal }: YamlScalar): { text: string; literal?: boolean } {
  return literal ? { text, literal } : { text };
}

type PlaceOf = (steps: readonly PathStep[], node: YamlNode, slot: YamlSlot) => KeyPlace;

function listKeys(root: YamlNode | undefined, placeOf: PlaceOf): readonly KeyPlace[] {
  const places: KeyPlace[] = [];
  const steps: PathStep[] = [];
  // The reader bounds the depth of what is walked here; aliases are not followed into what they name.
  const visit = (node: YamlNode, slot: YamlSlot): void => {
    if (resolved(node).kind === 'scalar' || listOf(node) !== undefined) places.push(placeOf(steps, node, slot));
    else if (node.kind === 'map') {
      for (const [name, pair] of node.members) {
        if (pair === undefined) continue;
        steps.push(name);
        visit(pair.value, { kind: 'pair', map: node, pair, above: slot });
        steps.pop();
      }
    } else if (node.kind === 'seq') {
      node.items.forEach((item, index) => {
        steps.push(index);
        visit(item.value, { kind: 'item', seq: node, item, index, above: slot });
        steps.pop();
      });
    }
  };
  if (root !== undefined) visit(root, { kind: 'root' });
  return places.sort((a, b) => a.span.start - b.span.start);
}
