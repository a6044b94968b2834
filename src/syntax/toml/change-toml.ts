import type { Span } from '../../text/span.ts';
import type { Changed, ChangeResult, Change, SyntaxValue } from '../contract.ts';
import { readDottedPath, tomlPaths } from '../shared/dotted-path.ts';
import { listDifference } from '../shared/list-difference.ts';
import { refusalsOf } from '../shared/refusals.ts';
import type { Refusals } from '../shared/refusals.ts';
import { settleChanges } from '../shared/settle-changes.ts';
import type { SettledChange } from '../shared/settle-changes.ts';
import { TomlPlan } from './toml-plan.ts';
import { sameTomlScalar, tomlQuoteOf, writeTomlScalar } from './toml-scalar.ts';
import type { TomlQuote, TomlText, WrittenToml } from './toml-scalar.ts';
import type { TomlEntry, TomlList, TomlNode, TomlScalar, TomlSection, TomlTable } from './toml-model.ts';
import { isList } from './toml-tree.ts';
import type { TomlTree } from './toml-tree.ts';

/** Several changes of one TOML text. Linear in the text and the changes. */
export function changeToml(tree: TomlTree, changes: readonly Change[]): Changed {
  const changer = new TomlChanger(tree);
  const results = settleChanges(
    tree.source,
    changes,
    (path) => readDottedPath(path, tomlPaths),
    (settled) => changer.apply(settled),
  );
  return { edits: changer.plan.finish(), results };
}

const unchanged: ChangeResult = { kind: 'unchanged' };
const changed: ChangeResult = { kind: 'changed' };

/** Turns changes into a plan, one by one; records use it for their fields too. */
export class TomlChanger {
  readonly plan: TomlPlan;
  readonly #tree: TomlTree;
  readonly refuse: Refusals;
  readonly #newLines: boolean;
  readonly #quotes = new Map<TomlSection, TomlQuote | undefined>();

  constructor(tree: TomlTree) {
    this.#tree = tree;
    this.plan = new TomlPlan(tree);
    this.refuse = refusalsOf(tree.source, 'TOML');
    this.#newLines = !tree.source.text.includes('\r');
  }

  apply(settled: SettledChange): ChangeResult {
    const { change, steps } = settled;
    const found = this.#tree.walk(steps);
    if (found.kind === 'missing') {
      return change.op === 'remove' ? unchanged : this.#add(change.path, found.below, found.rest, change.value);
    }
    const { node } = found;
    if (node.kind === 'table' || node.kind === 'tables' || (node.kind === 'array' && !isList(node))) {
      return this.refuse.holdsKeys(change.path, found.entry?.span ?? spanOf(node));
    }
    if (change.op === 'set') return this.#set(change.path, node, change.value);
    if (found.entry !== undefined) this.plan.removeEntry(found.entry);
    else if (found.item !== undefined) {
      if (!this.plan.removeItem(found.item.array, found.item.index)) return this.#mixed(change.path, node.span);
    }
    return changed;
  }

  #mixed(path: string, span: Span): ChangeResult {
    return this.refuse.notDetermined(path, 'items are added to and taken from its list at once.', span);
  }

  #set(path: string, node: TomlScalar | TomlList, value: SyntaxValue): ChangeResult {
    if (node.kind === 'array' && value.kind === 'list') return this.#setList(path, node, value.items);
    if (node.kind === 'scalar' && value.kind === 'scalar' && sameTomlScalar(node, value)) return unchanged;
    const written = this.write(value, node.kind === 'scalar' ? this.#quoteOf(node) : undefined);
    if (written.kind === 'cannot') return this.refuse.cannotCarry(path, written.why, node.span);
    this.plan.replace(node.span, written.text);
    return changed;
  }

  #setList(path: string, node: TomlList, items: readonly TomlText[]): ChangeResult {
    const same = (a: number, b: number): boolean => {
      const [old, fresh] = [node.items[a], items[b]];
      return old !== undefined && fresh !== undefined && sameTomlScalar(old, fresh);
    };
    const difference = listDifference(node.items.length, items.length, same);
    const texts: string[] = [];
    const neighbour = node.items.find((item) => !item.literal);
    for (const [index, item] of items.entries()) {
      const old = node.items[index];
      const like = (old !== undefined && !old.literal ? old : undefined) ?? neighbour;
      const written = writeTomlScalar(item, like === undefined ? undefined : this.#quoteOf(like), this.#newLines);
      if (written.kind === 'cannot') return this.refuse.cannotCarry(path, written.why, node.span);
      texts.push(written.text);
    }
    const { replaced, removed, added, after } = difference;
    if (replaced.size === 0 && removed.size === 0 && added.length === 0) return unchanged;
    for (const [from, to] of replaced) {
      const old = node.items[from];
      if (old !== undefined) this.plan.replace(old.span, texts[to] ?? '');
    }
    for (const index of removed) this.plan.removeItem(node, index);
    if (added.length > 0)
      this.plan.insertItems(
        node,
        after,
        added.map((index) => texts[index] ?? ''),
      );
    return changed;
  }

  #add(path: string, below: TomlNode, rest: readonly (string | number)[], value: SyntaxValue): ChangeResult {
    const [first] = rest;
    const place = below.kind === 'tables' ? { start: 0, end: 0 } : spanOf(below);
    if (below.kind === 'array' && rest.length === 1 && first === below.items.length) {
      const last = below.items.at(-1);
      const written = this.write(value, last?.kind === 'scalar' ? this.#quoteOf(last) : undefined);
      if (written.kind === 'cannot') return this.refuse.cannotCarry(path, written.why, place);
      if (!this.plan.insertItems(below, below.items.length - 1, [written.text])) return this.#mixed(path, place);
      return changed;
    }
    if (below.kind === 'scalar')
      return this.refuse.notDetermined(path, 'what should hold it is a single value.', place);
    if (below.kind !== 'table') return this.refuse.notDetermined(path, 'no item of this list has that number.', place);
    const names = rest.filter((step) => typeof step === 'string');
    if (names.length < rest.length) {
      return this.refuse.notDetermined(path, 'an index can only name an item that is there.', place);
    }
    const written = this.write(value, this.neighbourQuote(below));
    if (written.kind === 'cannot') return this.refuse.cannotCarry(path, written.why, place);
    this.plan.addKey(below, names, written.text);
    return changed;
  }

  write(value: SyntaxValue, like: TomlQuote | undefined): WrittenToml {
    if (value.kind === 'scalar') return writeTomlScalar(value, like, this.#newLines);
    const items: string[] = [];
    for (const item of value.items) {
      const written = writeTomlScalar(item, like, false);
      if (written.kind === 'cannot') return written;
      items.push(written.text);
    }
    return { kind: 'text', text: `[${items.join(', ')}]` };
  }

  #quoteOf(node: TomlScalar): TomlQuote | undefined {
    return node.literal ? undefined : tomlQuoteOf(this.#tree.source.text.slice(node.span.start, node.span.start + 3));
  }

  /** How the last string before the place of a new key is quoted; only one-line quotes are followed. */
  neighbourQuote(table: TomlTable | undefined): TomlQuote | undefined {
    if (table?.home.kind !== 'section') return undefined;
    const { section } = table.home;
    if (!this.#quotes.has(section)) this.#quotes.set(section, this.#lastQuote(section.entries));
    return this.#quotes.get(section);
  }

  #lastQuote(entries: readonly TomlEntry[]): TomlQuote | undefined {
    const quotes = entries.map(({ valueSpan: { start } }) =>
      tomlQuoteOf(this.#tree.source.text.slice(start, start + 3)),
    );
    const last = quotes.findLast((quote) => quote === "'" || quote === '"');
    return last === "'" ? last : undefined;
  }
}

function spanOf(node: TomlNode): Span {
  if (node.kind === 'scalar' || node.kind === 'array') return node.span;
  if (node.kind === 'table' && node.home.kind === 'inline') return node.home.inline.span;
  if (node.kind === 'table' && node.home.kind === 'section') return node.home.section.header ?? { start: 0, end: 0 };
  return { start: 0, end: 0 };
}
