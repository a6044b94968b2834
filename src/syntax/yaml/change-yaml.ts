import type { Span } from '../../text/span.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Change, Changed, ChangeResult, SyntaxValue } from '../contract.ts';
import { refusalsOf } from '../shared/refusals.ts';
import type { Refusals } from '../shared/refusals.ts';
import { refused, settleChanges } from '../shared/settle-changes.ts';
import type { SettledChange } from '../shared/settle-changes.ts';
import { YamlPlan } from './yaml-plan.ts';
import type { Hindrance } from './yaml-changes.ts';
import { sameYamlScalar } from './yaml-scalar.ts';
import { listOf, readYamlPath, resolved } from './yaml-tree.ts';
import type { YamlFound, YamlTree } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** Several changes of one YAML text. Linear in the text and the changes. */
export function changeYaml(tree: YamlTree, changes: readonly Change[]): Changed {
  const changer = new YamlChanger(tree);
  const results = settleChanges(tree.source, changes, readYamlPath, (settled) => changer.apply(settled));
  return { edits: changer.plan.finish(), results };
}

const unchanged: ChangeResult = { kind: 'unchanged' };
const changed: ChangeResult = { kind: 'changed' };

/** Turns changes into a plan, one by one; records use it for their fields too. */
export class YamlChanger {
  readonly plan: YamlPlan;
  readonly #tree: YamlTree;
  readonly refuse: Refusals;

  constructor(tree: YamlTree) {
    this.#tree = tree;
    this.plan = new YamlPlan(tree);
    this.refuse = refusalsOf(tree.source, 'YAML');
  }

  apply({ change, steps }: SettledChange): ChangeResult {
    const { path } = change;
    if (this.#tree.document.several) return this.#several(path);
    const found = this.#tree.walk(steps);
    if (found.kind === 'ambiguous') return this.#ambiguous(path, found.map.span);
    if (found.kind === 'missing') return change.op === 'remove' ? unchanged : this.#add(path, found, change.value);
    const { node, slot } = found;
    const current = resolved(node);
    const list = listOf(node);
    if (current.kind !== 'scalar' && list === undefined) return this.refuse.holdsKeys(path, node.span);
    if (change.op === 'set') {
      const { value } = change;
      if (value.kind === 'scalar' && current.kind === 'scalar' && sameYamlScalar(current, value)) return unchanged;
      if (value.kind === 'list' && list !== undefined && node.kind === 'seq') {
        if (found.shared && !sameList(list, value)) return this.#shared(path, node.span);
        const hindrance = this.plan.setList(slot, node, list, scalars(value));
        return hindrance === false ? unchanged : this.result(path, node.span, hindrance);
      }
      if (value.kind === 'list' && list !== undefined && sameList(list, value)) return unchanged;
      // An alias itself may be replaced, since that changes its own place only.
      if (found.shared) return this.#shared(path, node.span);
      return this.result(path, node.span, this.plan.replace(slot, node, asYaml(value)));
    }
    if (found.shared) return this.#shared(path, node.span);
    if (slot.kind === 'root') {
      return this.refuse.notDetermined(path, 'a document without its only value would be another one.', node.span);
    }
    if (slot.kind === 'pair')
      return this.result(path, node.span, this.plan.removePair(slot.map, slot.pair, slot.above));
    return this.result(path, node.span, this.plan.removeItem(slot.seq, slot.index, slot.above));
  }

  #add(path: string, found: Extract<YamlFound, { kind: 'missing' }>, value: SyntaxValue): ChangeResult {
    const { below, rest, slot } = found;
    const span = below?.span ?? { start: 0, end: 0 };
    if (found.shared || below?.kind === 'alias') return this.#shared(path, span);
    if (below?.kind === 'seq' && rest.length === 1 && rest[0] === below.items.length) {
      return this.result(path, span, this.plan.insertItems(below, below.items.length - 1, [asYaml(value)], slot));
    }
    const names = rest.filter((step) => typeof step === 'string');
    if (names.length < rest.length) {
      return this.refuse.notDetermined(path, 'an index can only name an item that is there.', span);
    }
    if (names.length === 0)
      return this.refuse.notDetermined(path, 'an empty document is given keys, not a value.', span);
    return this.result(path, span, this.plan.add(slot, below, names, asYaml(value)));
  }

  result(path: string, span: Span, hindrance: Hindrance): ChangeResult {
    if (hindrance === undefined) return changed;
    if (hindrance.kind === 'shared') return this.#shared(path, span);
    if (hindrance.kind === 'cannot-write') return this.refuse.cannotCarry(path, hindrance.why, span);
    return this.refuse.notDetermined(path, hindrance.why, span);
  }

  #shared(path: string, span: Span): ChangeResult {
    return refused(
      makeFinding('shared-by-alias', {
        detail: `${JSON.stringify(path)} lies in a value that other keys refer to by its anchor, so they would change with it.`,
        wayOut: 'Replace the aliases by copies of the value by hand, then run the command again.',
        place: { source: this.#tree.source, span },
      }),
    );
  }

  #ambiguous(path: string, span: Span): ChangeResult {
    return refused(
      makeFinding('key-ambiguous', {
        detail: `${JSON.stringify(path)} leads through a name that stands twice in one mapping; which one counts is not told.`,
        wayOut: 'Take one of the two out of the file by hand.',
        place: { source: this.#tree.source, span },
      }),
    );
  }

  #several(path: string): ChangeResult {
    return refused(
      makeFinding('several-documents', {
        detail: `${JSON.stringify(path)} was to be changed, but the file holds more than one document.`,
        wayOut: 'Split the file, or leave it out of the dialect.',
        place: { source: this.#tree.source, span: { start: 0, end: 0 } },
      }),
    );
  }
}

type ListValue = Extract<SyntaxValue, { kind: 'list' }>;

function scalars(value: ListValue): readonly YamlValue[] {
  return value.items.map((item) => ({ kind: 'scalar', ...item }));
}

export function asYaml(value: SyntaxValue): YamlValue {
  return value.kind === 'scalar' ? value : { kind: 'list', items: scalars(value) };
}

function sameList(list: readonly { text: string; literal: boolean }[], value: ListValue): boolean {
  return (
    list.length === value.items.length && list.every((item, k) => sameYamlScalar(item, value.items[k] ?? { text: '' }))
  );
}
