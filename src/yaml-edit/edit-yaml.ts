import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { printDottedPath, yamlPaths } from '../syntax/shared/dotted-path.ts';
import { refusalsOf } from '../syntax/shared/refusals.ts';
import type { Refusals } from '../syntax/shared/refusals.ts';
import type { Hindrance } from '../syntax/yaml/yaml-changes.ts';
import type { YamlMap, YamlNode } from '../syntax/yaml/yaml-model.ts';
import { YamlPlan } from '../syntax/yaml/yaml-plan.ts';
import { YamlTree } from '../syntax/yaml/yaml-tree.ts';
import type { YamlFound, YamlSlot } from '../syntax/yaml/yaml-tree.ts';
import type { YamlValue } from '../syntax/yaml/yaml-value.ts';
import { yaml } from '../syntax/yaml/yaml.ts';
import type { SourceText } from '../text/source-text.ts';
import type { TextEdit } from '../text/text-edit.ts';
import { changeNode } from './change-node.ts';
import { yamlValueOf } from './plain-yaml.ts';
import type { PlainYaml } from './plain-yaml.ts';

/** Keys by name, items by index from 0. */
export type YamlPath = readonly (string | number)[];

/** One change of a profile, house, dialect or catalog. */
export type YamlChange =
  /**
   * Makes a place hold a value; missing mappings on the way are made. Where mappings or lists are there already,
   * only what differs is touched. `order`: names of the members of the mapping that gets a new key, in the order in
   * which a person would write them; the new one goes behind the last that stands before it there.
   */
  | { readonly op: 'set'; readonly path: YamlPath; readonly value: PlainYaml; readonly order?: readonly string[] }
  /** Takes a key or an item out, whatever it holds. A mapping that loses its last key goes too. */
  | { readonly op: 'remove'; readonly path: YamlPath }
  /** Adds an item at the end of a sequence, which is made when it is not there. */
  | { readonly op: 'append'; readonly path: YamlPath; readonly value: PlainYaml }
  /** Gives a key another name; its value, place and comments stay. */
  | { readonly op: 'rename'; readonly path: YamlPath; readonly name: string };

export interface YamlEditOptions {
  /** Indent of one level where the text shows none. Default two blanks. */
  readonly indent?: string;
}

/**
 * Edits that make all changes that can be made (offsets of `source.text`; sorted, disjoint), and a finding for each
 * that cannot. Comments, blank lines, quotes and everything not named stay as they are.
 */
export function editYaml(
  source: SourceText,
  changes: readonly YamlChange[],
  options: YamlEditOptions = {},
): Outcome<readonly TextEdit[]> {
  const { tree, findings } = yaml.parse(source, options);
  if (!(tree instanceof YamlTree)) return { value: [], findings };
  if (tree.document.several) return { value: [], findings: [severalDocuments(source)] };
  const editor = new Editor(tree);
  const refused = settle(source, changes).flatMap((change) =>
    'refused' in change ? [change.refused] : (editor.apply(change.change) ?? []),
  );
  return { value: editor.plan.finish(), findings: [...findings, ...refused] };
}

/** `editYaml` for one value. */
export function setInYaml(
  source: SourceText,
  path: YamlPath,
  value: PlainYaml,
  options: YamlEditOptions & { readonly order?: readonly string[] } = {},
): Outcome<readonly TextEdit[]> {
  const { order, ...rest } = options;
  return editYaml(source, [{ op: 'set', path, value, ...(order === undefined ? {} : { order }) }], rest);
}

const print = (path: YamlPath): string => (path.length === 0 ? '.' : printDottedPath(path, yamlPaths));

type Settled = { readonly change: YamlChange } | { readonly refused: Finding };

/** The last of two changes to one place counts; of a change to a place and one inside it, the later is refused. */
function settle(source: SourceText, changes: readonly YamlChange[]): readonly Settled[] {
  const whole = (change: YamlChange): boolean => change.op === 'set' || change.op === 'remove';
  const keyOf = (path: YamlPath): string => JSON.stringify(path);
  const last = new Map(changes.flatMap((change, k) => (whole(change) ? [[keyOf(change.path), k] as const] : [])));
  const wholes = new Set<string>();
  const above = new Set<string>();
  return changes.flatMap((change, k): readonly Settled[] => {
    const key = keyOf(change.path);
    if (whole(change) && last.get(key) !== k) return [];
    const prefixes = change.path.map((_, n) => keyOf(change.path.slice(0, n)));
    const inWhole = prefixes.some((prefix) => wholes.has(prefix)) || (change.op === 'append' && wholes.has(key));
    if (inWhole || (whole(change) && above.has(key))) return [{ refused: collision(source, change.path) }];
    if (whole(change)) wholes.add(key);
    for (const prefix of prefixes) above.add(prefix);
    if (change.op === 'append') above.add(key);
    return [{ change }];
  });
}

class Editor {
  readonly plan: YamlPlan;
  readonly #tree: YamlTree;
  readonly #refuse: Refusals;

  constructor(tree: YamlTree) {
    this.#tree = tree;
    this.plan = new YamlPlan(tree);
    this.#refuse = refusalsOf(tree.source, 'YAML');
  }

  apply(change: YamlChange): Finding | undefined {
    const found = this.#tree.walk(change.path);
    if (found.kind === 'ambiguous') {
      return this.#finding(change.path, found.map, { kind: 'no-place', why: 'a name on its way stands twice.' });
    }
    switch (change.op) {
      case 'set':
        return this.#set(change, found);
      case 'remove':
        return found.kind === 'missing' ? undefined : this.#finding(change.path, found.node, this.#remove(found));
      case 'append':
        return this.#append(change, found);
      case 'rename':
        return this.#rename(change, found);
    }
  }

  #set(change: YamlChange & { op: 'set' }, found: Exclude<YamlFound, { kind: 'ambiguous' }>): Finding | undefined {
    const value = yamlValueOf(change.value);
    if (found.kind === 'found') {
      // First on a plan of its own, since a change that fails half-way must leave nothing behind.
      const trial = changeNode(new YamlPlan(this.#tree), found.slot, found.node, value, found.shared);
      const hindrance = trial ?? changeNode(this.plan, found.slot, found.node, value, found.shared);
      return this.#finding(change.path, found.node, hindrance);
    }
    return this.#finding(change.path, found.below, this.#add(found, value, change.order));
  }

  #add(found: YamlFound & { kind: 'missing' }, value: YamlValue, order: readonly string[] | undefined): Hindrance {
    const { below, slot, rest } = found;
    if (found.shared) return { kind: 'shared' };
    const [first] = rest;
    if (below?.kind === 'seq' && rest.length === 1 && first === below.items.length) {
      return this.plan.insertItems(below, below.items.length - 1, [value], slot);
    }
    const names = rest.filter((step) => typeof step === 'string');
    if (names.length < rest.length) return { kind: 'no-place', why: 'an index can only name an item that is there.' };
    const [name, ...deeper] = names;
    if (name === undefined) return this.#whole(value);
    const after = below?.kind === 'map' && order !== undefined ? placeIn(below, name, order) : undefined;
    if (below?.kind === 'map' && after !== undefined && after < below.pairs.length - 1) {
      const inner = deeper.reduceRight<YamlValue>((inside, key) => ({ kind: 'map', members: [[key, inside]] }), value);
      return this.plan.place(below, after, name, inner, slot);
    }
    return this.plan.add(slot, below, names, value);
  }

  /** A value for a text that holds none. */
  #whole(value: YamlValue): Hindrance {
    if (value.kind !== 'map') return { kind: 'no-place', why: 'an empty text is given keys, not a value.' };
    for (const [name, member] of value.members) {
      const hindrance = this.plan.add({ kind: 'root' }, undefined, [name], member);
      if (hindrance !== undefined) return hindrance;
    }
    return undefined;
  }

  #remove({ slot, shared }: { readonly slot: YamlSlot; readonly shared: boolean }): Hindrance {
    if (shared) return { kind: 'shared' };
    if (slot.kind === 'pair') return this.plan.removePair(slot.map, slot.pair, slot.above);
    if (slot.kind === 'item') return this.plan.removeItem(slot.seq, slot.index, slot.above, true);
    return { kind: 'no-place', why: 'a document without its only value would be another one.' };
  }

  #append(
    change: YamlChange & { op: 'append' },
    found: Exclude<YamlFound, { kind: 'ambiguous' }>,
  ): Finding | undefined {
    const item = yamlValueOf(change.value);
    const list: YamlValue = { kind: 'list', items: [item] };
    if (found.kind === 'missing') return this.#finding(change.path, found.below, this.#add(found, list, undefined));
    const { node, slot, shared } = found;
    if (shared) return this.#finding(change.path, node, { kind: 'shared' });
    if (node.kind === 'scalar' && node.style === 'empty')
      return this.#finding(change.path, node, this.plan.replace(slot, node, list));
    if (node.kind !== 'seq') {
      return this.#finding(change.path, node, { kind: 'no-place', why: 'what stands there is no list.' });
    }
    return this.#finding(change.path, node, this.plan.insertItems(node, node.items.length - 1, [item], slot, true));
  }

  #rename(
    change: YamlChange & { op: 'rename' },
    found: Exclude<YamlFound, { kind: 'ambiguous' }>,
  ): Finding | undefined {
    if (found.kind === 'missing') {
      return this.#finding(change.path, found.below, { kind: 'no-place', why: 'so it cannot be given another name.' });
    }
    const { slot } = found;
    if (slot.kind !== 'pair') {
      return this.#finding(change.path, found.node, { kind: 'no-place', why: 'only keys have names.' });
    }
    if (slot.pair.name === change.name) return undefined;
    if (slot.map.members.has(change.name)) {
      return this.#finding(change.path, found.node, {
        kind: 'no-place',
        why: `a key ${JSON.stringify(change.name)} stands beside it.`,
      });
    }
    return this.#finding(change.path, found.node, this.plan.rename(slot.map, slot.pair, change.name));
  }

  #finding(path: YamlPath, node: YamlNode | undefined, hindrance: Hindrance): Finding | undefined {
    if (hindrance === undefined) return undefined;
    const span = node?.span ?? { start: 0, end: 0 };
    const name = print(path);
    if (hindrance.kind === 'shared') {
      return makeFinding('shared-by-alias', {
        detail: `${JSON.stringify(name)} lies in a value that other keys refer to by its anchor, so they would change with it.`,
        wayOut: 'Replace the aliases by copies of the value by hand, then run the command again.',
        place: { source: this.#tree.source, span },
      });
    }
    const result =
      hindrance.kind === 'cannot-write'
        ? this.#refuse.cannotCarry(name, hindrance.why, span)
        : this.#refuse.cannotChange(name, hindrance.why, span);
    return result.kind === 'refused' ? result.finding : undefined;
  }
}

/** The index of the pair behind which a new member goes (-1: first); undefined: at the end. */
function placeIn(map: YamlMap, name: string, order: readonly string[]): number | undefined {
  const rank = order.indexOf(name);
  if (rank < 0) return undefined;
  const ranks = map.pairs.map((pair) => (pair.name === undefined ? -1 : order.indexOf(pair.name)));
  const after = ranks.findLastIndex((other) => other >= 0 && other < rank);
  if (after >= 0) return after;
  // Nothing that stands before it is there: it goes before the first that stands after it.
  const next = ranks.findIndex((other) => other > rank);
  return next < 0 ? undefined : next - 1;
}

function collision(source: SourceText, path: YamlPath): Finding {
  return makeFinding('changes-collide', {
    detail: `${JSON.stringify(print(path))} is to be changed together with a key that holds it, or that it holds.`,
    wayOut: 'Keep only one of the two changes.',
    place: { source, span: { start: 0, end: 0 } },
  });
}

function severalDocuments(source: SourceText): Finding {
  return makeFinding('several-documents', {
    detail: 'The file holds more than one document, and one of ours holds exactly one.',
    wayOut: 'Take the other documents out of the file.',
    place: { source, span: { start: 0, end: 0 } },
  });
}
