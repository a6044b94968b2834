import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { printDottedPath, readDottedPath, tomlPaths } from '../shared/dotted-path.ts';
import type { PathStep } from '../shared/dotted-path.ts';
import type { TomlArray, TomlDocument, TomlEntry, TomlList, TomlNode, TomlScalar, TomlTable } from './toml-model.ts';

/** Where a path leads. `missing`: `rest` of the path (never empty) is not there, below the table or array. */
export type Found =
  | { readonly kind: 'found'; readonly node: TomlNode; readonly entry?: TomlEntry; readonly item?: ArrayItem }
  | { readonly kind: 'missing'; readonly below: TomlNode; readonly rest: readonly PathStep[] };

export interface ArrayItem {
  readonly array: TomlArray;
  readonly index: number;
}

export function isList(node: TomlNode): node is TomlList {
  return node.kind === 'array' && node.items.every((item) => item.kind === 'scalar');
}

/** A parsed TOML text. */
export class TomlTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly document: TomlDocument;
  #keys: readonly KeyPlace[] | undefined;

  constructor(source: SourceText, style: Style, document: TomlDocument) {
    this.source = source;
    this.style = style;
    this.document = document;
  }

  /** Scalars and lists of scalars. An item of such a list is named by `get` too (`sizes[0]`), but not listed here. */
  keys(): readonly KeyPlace[] {
    return (this.#keys ??= listKeys(this.document.root));
  }

  get(path: string): SyntaxValue | undefined {
    const found = this.#at(path);
    return found?.kind === 'found' ? valueOf(found.node) : undefined;
  }

  find(path: string): KeyPlace | undefined {
    const read = readDottedPath(path, tomlPaths);
    const found = this.#at(path);
    if (read.kind === 'bad' || found?.kind !== 'found' || valueOf(found.node) === undefined) return undefined;
    return keyPlace(read.steps, found.node, found.entry);
  }

  walk(steps: readonly PathStep[]): Found {
    let node: TomlNode = this.document.root;
    let entry: TomlEntry | undefined;
    let item: ArrayItem | undefined;
    for (const [k, step] of steps.entries()) {
      const rest = steps.slice(k);
      entry = undefined;
      item = undefined;
      let next: TomlNode | undefined;
      if (typeof step === 'string' && node.kind === 'table') {
        const member = node.members.get(step);
        next = member?.node;
        entry = member?.entry;
      } else if (typeof step === 'number' && node.kind === 'tables') next = node.items[step];
      else if (typeof step === 'number' && node.kind === 'array') {
        next = node.items[step];
        item = { array: node, index: step };
      }
      if (next === undefined) return { kind: 'missing', below: node, rest };
      node = next;
    }
    return { kind: 'found', node, ...(entry === undefined ? {} : { entry }), ...(item === undefined ? {} : { item }) };
  }

  #at(path: string): Found | undefined {
    const read = readDottedPath(path, tomlPaths);
    return read.kind === 'bad' ? undefined : this.walk(read.steps);
  }
}

export function valueOf(node: TomlNode): SyntaxValue | undefined {
  if (node.kind === 'scalar') return { kind: 'scalar', ...textOf(node) };
  return isList(node) ? { kind: 'list', items: node.items.map(textOf) } : undefined;
}

function textOf({ text, literal }: TomlScalar): { text: string; literal?: boolean } {
  return literal ? { text, literal } : { text };
}

function keyPlace(steps: readonly PathStep[], node: TomlNode, entry: TomlEntry | undefined): KeyPlace {
  const path = printDottedPath(steps, tomlPaths);
  const own = node.kind === 'scalar' || node.kind === 'array' ? node.span : { start: 0, end: 0 };
  return { path, span: entry?.span ?? own, valueSpan: entry?.valueSpan ?? own };
}

function listKeys(root: TomlTable): readonly KeyPlace[] {
  const places: KeyPlace[] = [];
  const steps: PathStep[] = [];
  // The reader bounds the depth of what is walked here.
  const visit = (node: TomlNode, entry: TomlEntry | undefined): void => {
    if (node.kind === 'table') {
      for (const [name, member] of node.members) {
        steps.push(name);
        visit(member.node, member.entry);
        steps.pop();
      }
    } else if (node.kind === 'tables' || (node.kind === 'array' && !isList(node))) {
      node.items.forEach((item, index) => {
        steps.push(index);
        visit(item, undefined);
        steps.pop();
      });
    } else places.push(keyPlace(steps, node, entry));
  };
  visit(root, undefined);
  return places.sort((a, b) => a.span.start - b.span.start);
}
