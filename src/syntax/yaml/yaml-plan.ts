import type { Span } from '../../text/span.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { lineEndAfter, lineEndNear } from '../shared/line-plan.ts';
import { listDifference } from '../shared/list-difference.ts';
import { printInline, printLines, printMember, printYamlKey, wantsLines } from './print-yaml.ts';
import type { PrintSpot } from './print-yaml.ts';
import { writeBelow, writeMap, writeSeq } from './write-collections.ts';
import { growing, grown } from './yaml-changes.ts';
import type { ChangesByMap, Growing, Hindrance, MapChanges, SeqChanges } from './yaml-changes.ts';
import { columnOf } from './yaml-layout.ts';
import type { YamlMap, YamlNode, YamlPair, YamlScalar, YamlSeq } from './yaml-model.ts';
import { blockScalar, sameYamlScalar } from './yaml-scalar.ts';
import { YamlSheet, isFlowSlot } from './yaml-sheet.ts';
import { resolved } from './yaml-tree.ts';
import type { YamlSlot, YamlTree } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

const mixture: Hindrance = { kind: 'no-place', why: 'items are added to and taken from its list at once.' };

/** Gathers what happens to one text, collection by collection, and writes it as edits once. */
export class YamlPlan {
  readonly #sheet: YamlSheet;
  readonly #text: string;
  readonly #maps: ChangesByMap = new Map();
  readonly #seqs = new Map<YamlSeq, SeqChanges>();
  readonly #holes = new Map<YamlNode, { slot: YamlSlot; added: Growing }>();
  readonly #root = growing();

  constructor(tree: YamlTree) {
    this.#sheet = new YamlSheet(tree);
    this.#text = tree.source.text;
  }

  /** Gives a node another value. Its tag goes, unless it is one of the file's own. */
  replace(slot: YamlSlot, node: YamlNode, value: YamlValue): Hindrance {
    const hindered = this.#hindered(node, value);
    if (hindered !== undefined) return hindered;
    const { tag } = node;
    const flow = isFlowSlot(slot);
    const like = node.kind === 'scalar' && !node.literal ? node.style : undefined;
    const near = like === undefined ? this.#sheet.spotOf(slot) : undefined;
    const spot: PrintSpot = { flow, like: like ?? near?.like, quotedKeys: near?.quotedKeys ?? false };
    const block = this.#asBlockScalar(slot, node, value);
    if (block !== undefined) this.#sheet.lines.replace({ span: node.span, text: block });
    else if (
      !flow &&
      wantsLines(value, this.#sheet.layout) &&
      !(value.kind === 'list' && node.kind !== 'seq' && value.items.every((item) => item.kind === 'scalar'))
    ) {
      const hindrance = this.#replaceByLines(slot, node, value, spot);
      if (hindrance !== undefined) return hindrance;
    } else {
      const written = printInline(value, spot, this.#sheet.layout);
      if (written.kind === 'cannot') return { kind: 'cannot-write', why: written.why };
      const hindrance = this.#sheet.replaceInline(slot, node, written.text);
      if (hindrance !== undefined) return hindrance;
    }
    if (tag !== undefined && !tag.own) this.#sheet.lines.replace({ span: tag.span, text: '' });
    return undefined;
  }

  /** What stands against a new value for a node, whatever the value's text. */
  #hindered(node: YamlNode, value: YamlValue): Hindrance {
    if (holdsShared(node)) return { kind: 'shared' };
    if (node.tag?.own === true && (value.kind !== 'scalar' || value.literal === true)) {
      return { kind: 'no-place', why: 'its value has a tag of its own, which fits only a text.' };
    }
    return undefined;
  }

  #asBlockScalar(slot: YamlSlot, node: YamlNode, value: YamlValue): string | undefined {
    if (value.kind !== 'scalar' || value.literal === true || node.kind !== 'scalar') return undefined;
    if (node.style !== 'literal' && node.style !== 'folded') return undefined;
    const [header = '', ...body] = this.#text.slice(node.span.start, node.span.end).split(/\r?\n/);
    if (/^[|>][-+]?[0-9]/.test(header)) return undefined;
    // At the very end of a file without a last line end, readers differ on whether the value has one.
    if (node.span.end === this.#text.length && value.text.endsWith('\n')) return undefined;
    const first = body.find((line) => line.trim() !== '');
    const parent =
      slot.kind === 'root'
        ? 0
        : columnOf(this.#text, slot.kind === 'pair' ? slot.pair.span.start : slot.item.span.start);
    const indent = first === undefined ? ' '.repeat(parent + this.#sheet.layout.step) : (/^ */.exec(first)?.[0] ?? '');
    const lines = blockScalar(value.text, node.style, indent);
    if (lines === undefined) return undefined;
    const [indicator = '', ...rest] = lines;
    const comment = /^[|>][-+]?([ \t]+#.*)$/.exec(header)?.[1] ?? '';
    return [indicator + comment, ...rest].join(lineEndNear(this.#text, node.span.end, '\n'));
  }

  /** A collection on lines of its own, below its key or in its item. */
  #replaceByLines(slot: YamlSlot, node: YamlNode, value: YamlValue, spot: PrintSpot): Hindrance {
    const text = this.#text;
    const printed = printLines(value, { ...spot, like: undefined, quotedKeys: false }, this.#sheet.layout);
    if (printed.kind === 'cannot') return { kind: 'cannot-write', why: printed.why };
    const eol = lineEndNear(text, node.span.start, '\n');
    if (slot.kind !== 'pair' || ((node.kind === 'map' || node.kind === 'seq') && node.layout === 'block')) {
      const same = slot.kind !== 'pair' || node.kind === (value.kind === 'map' ? 'map' : 'seq');
      if (!same) return { kind: 'no-place', why: 'a list stands where a group is wanted, or the other way round.' };
      const empty = node.kind === 'scalar' && node.style === 'empty';
      const at = empty && slot.kind === 'item' ? slot.item.hole.at + 1 : node.span.start;
      const column = columnOf(text, at);
      const block = printed.lines.join(eol + ' '.repeat(column));
      this.#sheet.lines.replace({ span: node.span, text: empty ? ` ${block}` : block });
      return undefined;
    }
    const step = value.kind === 'list' ? this.#sheet.layout.sequenceStep : this.#sheet.layout.step;
    const column = columnOf(text, slot.pair.span.start) + step;
    let from = node.span.start;
    while (text[from - 1] === ' ' || text[from - 1] === '\t') from -= 1;
    this.#sheet.lines.replace({
      span: { start: Math.max(from, slot.pair.hole.at, node.tag?.span.end ?? 0), end: node.span.end },
      text: '',
    });
    this.#sheet.insert(
      slot,
      lineEndAfter(text, node.span.end),
      printed.lines.map((line) => ' '.repeat(column) + line),
    );
    return undefined;
  }

  /** Makes a list hold these items, with the fewest places touched. `false`: it holds them already. */
  setList(
    slot: YamlSlot,
    seq: YamlSeq,
    current: readonly YamlScalar[],
    items: readonly YamlValue[],
  ): Hindrance | false {
    const same = (a: number, b: number): boolean => {
      const [old, fresh] = [current[a], items[b]];
      return old !== undefined && fresh?.kind === 'scalar' && sameYamlScalar(old, fresh);
    };
    const { replaced, removed, added, after } = listDifference(current.length, items.length, same);
    if (replaced.size === 0 && removed.size === 0 && added.length === 0) return false;
    for (const index of [...replaced.keys(), ...removed])
      if (seq.items[index]?.value.shared === true) return { kind: 'shared' };
    for (const [from, to] of replaced) {
      const [old, fresh] = [seq.items[from]?.value, items[to]];
      const hindered = old !== undefined && fresh !== undefined ? this.#hindered(old, fresh) : undefined;
      if (hindered !== undefined) return hindered;
    }
    const spot = this.#sheet.spotIn(seq);
    for (const item of items) {
      const written = printInline(item, spot, this.#sheet.layout);
      if (written.kind === 'cannot') return { kind: 'cannot-write', why: written.why };
    }
    for (const [from, to] of replaced) {
      const item = seq.items[from];
      const value = items[to];
      if (item === undefined || value === undefined) continue;
      const hindrance = this.replace({ kind: 'item', seq, item, index: from, above: slot }, item.value, value);
      if (hindrance !== undefined) return hindrance;
    }
    const changes = this.#seqChanges(seq, slot);
    for (const index of removed) changes.removed.add(index);
    pushItems(
      changes,
      after,
      added.map((index) => items[index]).filter((item) => item !== undefined),
    );
    return undefined;
  }

  removePair(map: YamlMap, pair: YamlPair, slot: YamlSlot): Hindrance {
    if (holdsShared(pair.value)) return { kind: 'shared' };
    if (map.layout === 'bare') return { kind: 'no-place', why: 'it is the one pair of a list item.' };
    this.#mapChanges(map, slot).removed.add(pair);
    return undefined;
  }

  removeItem(seq: YamlSeq, index: number, slot: YamlSlot, mixed = false): Hindrance {
    const item = seq.items[index];
    if (item !== undefined && holdsShared(item.value)) return { kind: 'shared' };
    const changes = this.#seqChanges(seq, slot);
    if (changes.added.size > 0 && !mixed) return mixture;
    changes.removed.add(index);
    return undefined;
  }

  /** Adds items after the one at `after` (-1: first). */
  insertItems(seq: YamlSeq, after: number, values: readonly YamlValue[], slot: YamlSlot, mixed = false): Hindrance {
    const changes = this.#seqChanges(seq, slot);
    if (changes.removed.size > 0 && !mixed) return mixture;
    const spot = this.#sheet.spotIn(seq);
    for (const value of values) {
      const written = printInline(value, spot, this.#sheet.layout);
      if (written.kind === 'cannot') return { kind: 'cannot-write', why: written.why };
    }
    pushItems(changes, after, values);
    return undefined;
  }

  /** Whether a value can be written at all. */
  cannotWrite(value: YamlValue): Hindrance {
    const written = printInline(value, { flow: true, like: undefined, quotedKeys: false }, this.#sheet.layout);
    return written.kind === 'cannot' ? { kind: 'cannot-write', why: written.why } : undefined;
  }

  /** Adds a member to a mapping after the pair at `after` (-1: first). */
  place(map: YamlMap, after: number, name: string, value: YamlValue, slot: YamlSlot): Hindrance {
    const printed = printMember(name, value, this.#sheet.spotIn(map), this.#sheet.layout);
    if (printed.kind === 'cannot') return { kind: 'cannot-write', why: printed.why };
    if (map.layout === 'bare') return { kind: 'no-place', why: 'what should hold it is the one pair of a list item.' };
    const { placed } = this.#mapChanges(map, slot);
    placed.set(after, [...(placed.get(after) ?? []), [name, value]]);
    return undefined;
  }

  /** Gives a key another name. */
  rename(map: YamlMap, pair: YamlPair, name: string): Hindrance {
    const quote = this.#text[pair.keySpan.start];
    const spot = { ...this.#sheet.spotIn(map), quotedKeys: quote === '"' };
    const printed = printYamlKey(name, spot);
    if (printed.kind === 'cannot') return { kind: 'cannot-write', why: printed.why };
    this.#sheet.lines.replace({ span: pair.keySpan, text: printed.text });
    return undefined;
  }

  /** Takes a record out: a list that loses its last record goes with its key. */
  dropRecord(seq: YamlSeq, index: number, slot: YamlSlot): Hindrance {
    this.#seqChanges(seq, slot).leaves = true;
    return this.removeItem(seq, index, slot, true);
  }

  /** Adds a key below a mapping, below a key without a value, or to an empty text. */
  add(slot: YamlSlot, below: YamlNode | undefined, names: readonly string[], value: YamlValue): Hindrance {
    const spot = below?.kind === 'map' ? this.#sheet.spotIn(below) : { flow: true, like: undefined, quotedKeys: false };
    for (const name of names) {
      const printed = printMember(name, value, spot, this.#sheet.layout);
      if (printed.kind === 'cannot') return { kind: 'cannot-write', why: printed.why };
    }
    let into: Growing;
    if (below === undefined) into = this.#root;
    else if (below.kind === 'map' && below.layout !== 'bare') into = this.#mapChanges(below, slot).added;
    else if (below.kind === 'scalar' && below.style === 'empty' && slot.kind !== 'root' && below.tag === undefined) {
      if (isFlowSlot(slot) || !(slot.kind === 'pair' ? slot.pair : slot.item).hole.colon) {
        return { kind: 'no-place', why: 'what should hold it has no value.' };
      }
      let known = this.#holes.get(below);
      if (known === undefined) this.#holes.set(below, (known = { slot, added: growing() }));
      into = known.added;
    } else return { kind: 'no-place', why: 'what should hold it is a single value or a list.' };
    names.forEach((name, k) => {
      if (k === names.length - 1) {
        into.members.set(name, value);
        return;
      }
      const known = into.members.get(name);
      const next = known?.kind === 'growing' ? known : growing();
      into.members.set(name, next);
      into = next;
    });
    return undefined;
  }

  finish(): readonly TextEdit[] {
    this.#cascade();
    for (const [map, changes] of this.#maps) writeMap(this.#sheet, map, changes);
    for (const [seq, changes] of this.#seqs) writeSeq(this.#sheet, seq, changes);
    for (const { slot, added } of this.#holes.values()) writeBelow(this.#sheet, slot, grown(added));
    if (this.#root.members.size > 0) {
      const plain = { flow: false, like: undefined, quotedKeys: false };
      this.#sheet.lines.insert(this.#sheet.tree.document.rootAt, this.#sheet.print(grown(this.#root), plain));
    }
    return this.#sheet.finish();
  }

  /** A mapping that loses its last key goes with its own key, unless a comment stands in it. */
  #cascade(): void {
    for (const [seq, { slot, removed, added, leaves }] of this.#seqs) {
      if (!leaves || added.size > 0 || removed.size < seq.items.length || slot.kind !== 'pair') continue;
      if ((seq.layout === 'block') !== (slot.map.layout === 'block')) continue;
      if (seq.layout === 'block' && this.#hasComments(seq.items, slot.pair)) continue;
      this.#seqs.delete(seq);
      this.#mapChanges(slot.map, slot.above).removed.add(slot.pair);
    }
    const queue = [...this.#maps.keys()];
    for (let map = queue.pop(); map !== undefined; map = queue.pop()) {
      const changes = this.#maps.get(map);
      if (
        changes === undefined ||
        changes.removed.size < map.pairs.length ||
        changes.added.members.size + changes.placed.size > 0
      )
        continue;
      const { slot } = changes;
      if (slot.kind !== 'pair' || (map.layout === 'block') !== (slot.map.layout === 'block')) continue;
      if (map.layout === 'block' && this.#hasComments(map.pairs, slot.pair)) continue;
      this.#maps.delete(map);
      this.#mapChanges(slot.map, slot.above).removed.add(slot.pair);
      queue.push(slot.map);
    }
  }

  #hasComments(parts: readonly { readonly span: Span }[], pair: YamlPair): boolean {
    const text = this.#text;
    let at = pair.hole.at;
    for (const { span } of parts) {
      if (text.slice(at, span.start).includes('#')) return true;
      at = lineEndAfter(text, span.end);
    }
    return false;
  }

  #mapChanges(map: YamlMap, slot: YamlSlot): MapChanges {
    let changes = this.#maps.get(map);
    if (changes === undefined)
      this.#maps.set(map, (changes = { slot, removed: new Set(), placed: new Map(), added: growing() }));
    return changes;
  }

  #seqChanges(seq: YamlSeq, slot: YamlSlot): SeqChanges {
    let changes = this.#seqs.get(seq);
    if (changes === undefined) {
      this.#seqs.set(seq, (changes = { slot, removed: new Set(), added: new Map(), leaves: false }));
    }
    return changes;
  }
}

function pushItems(changes: SeqChanges, after: number, values: readonly YamlValue[]): void {
  if (values.length === 0) return;
  const known = changes.added.get(after);
  if (known === undefined) changes.added.set(after, [...values]);
  else known.push(...values);
}

/** Whether an alias elsewhere names this node or one inside it. */
function holdsShared(node: YamlNode): boolean {
  if (node.shared) return true;
  const own = node.kind === 'alias' ? undefined : resolved(node);
  if (own?.kind === 'map') return own.pairs.some((pair) => holdsShared(pair.value));
  return own?.kind === 'seq' && own.items.some((item) => holdsShared(item.value));
}
