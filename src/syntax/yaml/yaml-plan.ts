import type { Span } from '../../text/span.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { insertItems, removeItems } from '../shared/comma-items.ts';
import { LinePlan, lineEndAfter, lineEndNear, lineStartBefore } from '../shared/line-plan.ts';
import { listDifference } from '../shared/list-difference.ts';
import { printInline, printLines, printMember, wantsLines } from './print-yaml.ts';
import type { PrintSpot, YamlLayout } from './print-yaml.ts';
import { columnOf, layoutOf, spotIn } from './yaml-layout.ts';
import type { YamlMap, YamlNode, YamlPair, YamlScalar, YamlSeq } from './yaml-model.ts';
import { blockScalar, sameYamlScalar } from './yaml-scalar.ts';
import { resolved } from './yaml-tree.ts';
import type { YamlSlot, YamlTree } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** Why a change cannot be made; undefined when it is planned. */
export type Hindrance =
  | { readonly kind: 'cannot-write'; readonly why: string }
  | { readonly kind: 'no-place'; readonly why: string }
  | { readonly kind: 'shared' }
  | undefined;

interface Growing {
  readonly kind: 'growing';
  readonly members: Map<string, Growing | YamlValue>;
}

interface MapChanges {
  readonly slot: YamlSlot;
  readonly removed: Set<YamlPair>;
  readonly added: Growing;
}

interface SeqChanges {
  readonly slot: YamlSlot;
  readonly removed: Set<number>;
  readonly added: YamlValue[];
  after: number;
}

const growing = (): Growing => ({ kind: 'growing', members: new Map() });

function grown(value: Growing | YamlValue): YamlValue {
  if (value.kind !== 'growing') return value;
  return { kind: 'map', members: [...value.members].map(([name, member]) => [name, grown(member)] as const) };
}

/** Gathers what happens to one text, collection by collection, and writes it as edits once. */
export class YamlPlan {
  readonly #text: string;
  readonly #tree: YamlTree;
  readonly #lines: LinePlan;
  readonly #maps = new Map<YamlMap, MapChanges>();
  readonly #seqs = new Map<YamlSeq, SeqChanges>();
  readonly #holes = new Map<YamlNode, { slot: YamlSlot; added: Growing }>();
  readonly #root = growing();
  readonly #inserts: { at: number; depth: number; lines: readonly string[] }[] = [];
  readonly #spots = new Map<YamlNode, PrintSpot>();
  #layout: YamlLayout | undefined;

  constructor(tree: YamlTree) {
    this.#tree = tree;
    this.#text = tree.source.text;
    this.#lines = new LinePlan(this.#text, tree.style.lineEnd);
  }

  get layout(): YamlLayout {
    return (this.#layout ??= layoutOf(this.#tree));
  }

  /** Gives a node another value. Its tag goes, unless it is one of the file's own. */
  replace(slot: YamlSlot, node: YamlNode, value: YamlValue): Hindrance {
    const hindered = this.#hindered(node, value);
    if (hindered !== undefined) return hindered;
    const { tag } = node;
    const flow = isFlowSlot(slot);
    const like = node.kind === 'scalar' && !node.literal ? node.style : undefined;
    const near = like === undefined ? this.#spotOf(slot) : undefined;
    const spot: PrintSpot = { flow, like: like ?? near?.like, quotedKeys: near?.quotedKeys ?? false };
    const block = this.#asBlockScalar(slot, node, value);
    if (block !== undefined) this.#lines.replace({ span: node.span, text: block });
    else if (!flow && wantsLines(value, this.layout) && !(value.kind === 'list' && node.kind !== 'seq')) {
      const hindrance = this.#replaceByLines(slot, node, value, spot);
      if (hindrance !== undefined) return hindrance;
    } else {
      const written = printInline(value, spot, this.layout);
      if (written.kind === 'cannot') return { kind: 'cannot-write', why: written.why };
      const hindrance = this.#replaceInline(slot, node, written.text);
      if (hindrance !== undefined) return hindrance;
    }
    if (tag !== undefined && !tag.own) this.#lines.replace({ span: tag.span, text: '' });
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
    const indent = first === undefined ? ' '.repeat(parent + this.layout.step) : (/^ */.exec(first)?.[0] ?? '');
    const lines = blockScalar(value.text, node.style, indent);
    if (lines === undefined) return undefined;
    const [indicator = '', ...rest] = lines;
    const comment = /^[|>][-+]?([ \t]+#.*)$/.exec(header)?.[1] ?? '';
    return [indicator + comment, ...rest].join(lineEndNear(this.#text, node.span.end, '\n'));
  }

  #replaceInline(slot: YamlSlot, node: YamlNode, written: string): Hindrance {
    const text = this.#text;
    if (node.kind === 'scalar' && node.style === 'empty') {
      if (slot.kind === 'root') this.#lines.replace({ span: node.span, text: ` ${written}` });
      else {
        const { hole } = slot.kind === 'pair' ? slot.pair : slot.item;
        const explicit =
          slot.kind === 'pair' && /^\?(?:\s|$)/.test(text.slice(slot.pair.span.start, slot.pair.span.start + 2));
        if (!hole.colon && (explicit || !isFlowSlot(slot))) return { kind: 'no-place', why: 'its key has no colon.' };
        this.#lines.replace({
          span: { start: hole.at, end: hole.at },
          text: hole.colon ? ` ${written}` : `: ${written}`,
        });
      }
      return undefined;
    }
    if ((node.kind === 'map' || node.kind === 'seq') && node.layout === 'block') {
      if (slot.kind === 'pair' && startsOwnLine(text, node.span.start)) {
        const { at } = slot.pair.hole;
        this.#lines.replace({ span: { start: at, end: at }, text: ` ${written}` });
        this.#lines.cut({ start: lineStartBefore(text, node.span.start), end: lineEndAfter(text, node.span.end) });
      } else this.#lines.replace({ span: node.span, text: written });
      return undefined;
    }
    let comment = '';
    if (node.kind === 'scalar' && (node.style === 'literal' || node.style === 'folded')) {
      comment = /^[|>][-+0-9]*([ \t]+#[^\r\n]*)/.exec(text.slice(node.span.start, node.span.end))?.[1] ?? '';
    }
    this.#lines.replace({ span: node.span, text: written + comment });
    return undefined;
  }

  /** A collection on lines of its own, below its key or in its item. */
  #replaceByLines(slot: YamlSlot, node: YamlNode, value: YamlValue, spot: PrintSpot): Hindrance {
    const text = this.#text;
    const printed = printLines(value, { ...spot, like: undefined, quotedKeys: false }, this.layout);
    if (printed.kind === 'cannot') return { kind: 'cannot-write', why: printed.why };
    const eol = lineEndNear(text, node.span.start, '\n');
    if (slot.kind !== 'pair' || ((node.kind === 'map' || node.kind === 'seq') && node.layout === 'block')) {
      const same = slot.kind !== 'pair' || node.kind === (value.kind === 'map' ? 'map' : 'seq');
      if (!same) return { kind: 'no-place', why: 'a list stands where a group is wanted, or the other way round.' };
      const empty = node.kind === 'scalar' && node.style === 'empty';
      const at = empty && slot.kind === 'item' ? slot.item.hole.at + 1 : node.span.start;
      const column = columnOf(text, at);
      const block = printed.lines.join(eol + ' '.repeat(column));
      this.#lines.replace({ span: node.span, text: empty ? ` ${block}` : block });
      return undefined;
    }
    const step = value.kind === 'list' ? this.layout.sequenceStep : this.layout.step;
    const column = columnOf(text, slot.pair.span.start) + step;
    let from = node.span.start;
    while (text[from - 1] === ' ' || text[from - 1] === '\t') from -= 1;
    this.#lines.replace({ span: { start: Math.max(from, slot.pair.hole.at), end: node.span.end }, text: '' });
    this.#insert(
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
    const spot = this.#spotOfCollection(seq);
    for (const item of items) {
      const written = printInline(item, spot, this.layout);
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
    changes.after = after;
    changes.added.push(...added.map((index) => items[index]).filter((item) => item !== undefined));
    return undefined;
  }

  removePair(map: YamlMap, pair: YamlPair, slot: YamlSlot): Hindrance {
    if (holdsShared(pair.value)) return { kind: 'shared' };
    if (map.layout === 'bare') return { kind: 'no-place', why: 'it is the one pair of a list item.' };
    this.#mapChanges(map, slot).removed.add(pair);
    return undefined;
  }

  removeItem(seq: YamlSeq, index: number, slot: YamlSlot): Hindrance {
    const item = seq.items[index];
    if (item !== undefined && holdsShared(item.value)) return { kind: 'shared' };
    const changes = this.#seqChanges(seq, slot);
    if (changes.added.length > 0)
      return { kind: 'no-place', why: 'items are added to and taken from its list at once.' };
    changes.removed.add(index);
    return undefined;
  }

  /** Adds items after the one at `after` (-1: first). */
  insertItems(seq: YamlSeq, after: number, values: readonly YamlValue[], slot: YamlSlot): Hindrance {
    const changes = this.#seqChanges(seq, slot);
    if (changes.removed.size > 0)
      return { kind: 'no-place', why: 'items are added to and taken from its list at once.' };
    const spot = this.#spotOfCollection(seq);
    for (const value of values) {
      const written = printInline(value, spot, this.layout);
      if (written.kind === 'cannot') return { kind: 'cannot-write', why: written.why };
    }
    changes.after = after;
    changes.added.push(...values);
    return undefined;
  }

  /** Adds a key below a mapping, below a key without a value, or to an empty text. */
  add(slot: YamlSlot, below: YamlNode | undefined, names: readonly string[], value: YamlValue): Hindrance {
    const spot =
      below?.kind === 'map' ? this.#spotOfCollection(below) : { flow: true, like: undefined, quotedKeys: false };
    for (const name of names) {
      const printed = printMember(name, value, spot, this.layout);
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
    for (const [map, changes] of this.#maps) this.#finishMap(map, changes);
    for (const [seq, changes] of this.#seqs) this.#finishSeq(seq, changes);
    for (const { slot, added } of this.#holes.values()) this.#fillHole(slot, added);
    if (this.#root.members.size > 0) {
      const plain = { flow: false, like: undefined, quotedKeys: false };
      this.#lines.insert(this.#tree.document.rootAt, this.#print(grown(this.#root), plain));
    }
    // At one place, what belongs deeper stands first.
    for (const { at, lines } of this.#inserts.sort((a, b) => b.depth - a.depth)) this.#lines.insert(at, lines);
    return this.#lines.finish();
  }

  #insert(slot: YamlSlot, at: number, lines: readonly string[]): void {
    this.#inserts.push({ at, depth: depthOf(slot), lines });
  }

  /** A mapping that loses its last key goes with its own key, unless a comment stands in it. */
  #cascade(): void {
    const queue = [...this.#maps.keys()];
    for (let map = queue.pop(); map !== undefined; map = queue.pop()) {
      const changes = this.#maps.get(map);
      if (changes === undefined || changes.removed.size < map.pairs.length || changes.added.members.size > 0) continue;
      const { slot } = changes;
      if (slot.kind !== 'pair' || (map.layout === 'block') !== (slot.map.layout === 'block')) continue;
      if (map.layout === 'block' && this.#hasComments(map, slot.pair)) continue;
      this.#maps.delete(map);
      this.#mapChanges(slot.map, slot.above).removed.add(slot.pair);
      queue.push(slot.map);
    }
  }

  #hasComments(map: YamlMap, pair: YamlPair): boolean {
    const text = this.#text;
    let at = pair.hole.at;
    for (const { span } of map.pairs) {
      if (text.slice(at, span.start).includes('#')) return true;
      at = lineEndAfter(text, span.end);
    }
    return false;
  }

  /** Takes out the lines of a pair or item; `before` is the value above it. */
  #cutLines(span: Span, before: YamlNode | undefined): void {
    const text = this.#text;
    let end = lineEndAfter(text, span.end);
    // Blank lines below would become part of a block scalar above that keeps them.
    if (before !== undefined && keepsBlanks(text, before)) {
      for (let next = lineEndAfter(text, end); end < text.length && text.slice(end, next).trim() === '';) {
        end = next;
        next = lineEndAfter(text, end);
      }
    }
    this.#lines.cut({ start: lineStartBefore(text, span.start), end });
  }

  #finishMap(map: YamlMap, { slot, removed, added }: MapChanges): void {
    const text = this.#text;
    const spot = this.#spotOfCollection(map);
    const members = [...added.members].map(([name, value]) => [name, grown(value)] as const);
    if (map.layout !== 'block') {
      this.#finishFlowMap(map, removed, members, spot);
      return;
    }
    const kept = map.pairs.filter((pair) => !removed.has(pair));
    const first = map.pairs[0];
    const last = map.pairs.at(-1);
    if (first === undefined || last === undefined) return;
    const column = columnOf(text, first.span.start);
    const lines = members.flatMap(([name, value]) => this.#print({ kind: 'map', members: [[name, value]] }, spot));
    const indented = lines.map((line) => (line === '' ? '' : ' '.repeat(column) + line));
    if (kept.length === 0 && lines.length === 0 && slot.kind !== 'root') {
      if (slot.kind === 'pair' && startsOwnLine(text, first.span.start)) {
        const { at } = slot.pair.hole;
        this.#lines.replace({ span: { start: at, end: at }, text: ' {}' });
      } else {
        this.#lines.replace({ span: { start: first.span.start, end: last.span.end }, text: '{}' });
        return;
      }
    }
    const [own, shared] = startsOwnLine(text, first.span.start) ? [map.pairs, []] : [map.pairs.slice(1), [first]];
    const lead = shared.length > 0 && removed.has(first) ? (kept[0]?.index ?? 0) : 0;
    for (const pair of own) {
      if (removed.has(pair) && pair.index >= lead) this.#cutLines(pair.span, map.pairs[pair.index - 1]?.value);
    }
    if (shared.length > 0 && removed.has(first)) {
      const [next] = kept;
      if (next === undefined) {
        // Its line stays, with what comes.
        const eol = lineEndNear(text, first.span.start, '\n');
        this.#lines.replace({ span: first.span, text: indented.join(eol).trimStart() });
        return;
      }
      this.#lines.replace({ span: { start: first.span.start, end: next.span.start }, text: '' });
    }
    if (indented.length > 0) this.#insert(slot, lineEndAfter(text, last.span.end), indented);
  }

  #finishFlowMap(
    map: YamlMap,
    removed: ReadonlySet<YamlPair>,
    members: readonly (readonly [string, YamlValue])[],
    spot: PrintSpot,
  ): void {
    const fresh = members.map(([name, value]) =>
      this.#print({ kind: 'map', members: [[name, value]] }, spot).join(' '),
    );
    const out = new Set<number>();
    for (const pair of removed) {
      const text = fresh.shift();
      if (text === undefined) out.add(pair.index);
      else this.#lines.replace({ span: pair.span, text });
    }
    const list = {
      inner: { start: map.span.start + 1, end: map.span.end - 1 },
      items: map.pairs.map((pair) => pair.span),
    };
    for (const edit of removeItems(this.#text, list, out)) this.#lines.replace(edit);
    for (const edit of insertItems(this.#text, list, map.pairs.length - 1, fresh)) this.#lines.replace(edit);
  }

  #finishSeq(seq: YamlSeq, { slot, removed, added, after }: SeqChanges): void {
    const text = this.#text;
    const spot = this.#spotOfCollection(seq);
    if (seq.layout === 'flow') {
      const list = {
        inner: { start: seq.span.start + 1, end: seq.span.end - 1 },
        items: seq.items.map((item) => item.span),
      };
      const texts = added.map((value) => this.#inline(value, spot));
      for (const edit of removeItems(text, list, removed)) this.#lines.replace(edit);
      for (const edit of insertItems(text, list, after, texts)) this.#lines.replace(edit);
      return;
    }
    const first = seq.items[0];
    const last = seq.items.at(-1);
    if (first === undefined || last === undefined) return;
    const column = columnOf(text, first.span.start);
    const lines = added.flatMap((value) => this.#print({ kind: 'list', items: [value] }, spot, true));
    const indented = lines.map((line) => (line === '' ? '' : ' '.repeat(column) + line));
    if (removed.size === seq.items.length) {
      const hindered = this.#replaceInline(slot, seq, '[]');
      if (hindered !== undefined) throw new Error('An emptied list has no place. This is a bug in thumbwright.');
      return;
    }
    const ownFirst = startsOwnLine(text, first.span.start);
    const lead = !ownFirst && removed.has(0) ? seq.items.findIndex((_, index) => !removed.has(index)) : 0;
    seq.items.forEach((item, index) => {
      if (removed.has(index) && index >= lead) this.#cutLines(item.span, seq.items[index - 1]?.value);
    });
    const next = seq.items[lead];
    if (lead > 0 && next !== undefined) {
      this.#lines.replace({ span: { start: first.span.start, end: next.span.start }, text: '' });
    }
    if (indented.length === 0) return;
    const before = seq.items[after];
    if (before !== undefined) this.#insert(slot, lineEndAfter(text, before.span.end), indented);
    else if (ownFirst) this.#insert(slot, lineStartBefore(text, first.span.start), indented);
    else {
      const eol = lineEndNear(text, first.span.start, '\n');
      const block = indented.join(eol).trimStart() + eol + ' '.repeat(column);
      this.#lines.replace({ span: { start: first.span.start, end: first.span.start }, text: block });
    }
  }

  #fillHole(slot: YamlSlot, added: Growing): void {
    const text = this.#text;
    const lines = this.#print(grown(added), { flow: false, like: undefined, quotedKeys: false });
    if (slot.kind === 'pair') {
      const column = columnOf(text, slot.pair.span.start) + this.layout.step;
      this.#insert(
        slot,
        lineEndAfter(text, slot.pair.hole.at),
        lines.map((line) => ' '.repeat(column) + line),
      );
    } else if (slot.kind === 'item') {
      const { at } = slot.item.hole;
      const glue = lineEndNear(text, at, '\n') + ' '.repeat(columnOf(text, at) + 1);
      this.#lines.replace({ span: { start: at, end: at }, text: ` ${lines.join(glue)}` });
    }
  }

  /** What was printed once, when the change was asked for, cannot fail now. */
  #print(value: YamlValue, spot: PrintSpot, blockList = false): readonly string[] {
    const layout = blockList ? { ...this.layout, flowLists: false } : this.layout;
    if (spot.flow && value.kind === 'map') {
      const layoutBare = { ...layout, padded: false };
      return value.members.map((member) =>
        this.#inline({ kind: 'map', members: [member] }, spot, layoutBare).slice(1, -1),
      );
    }
    if (blockList && value.kind === 'list') {
      return value.items.flatMap((item) => {
        const printed = printLines(item, spot, this.layout);
        if (printed.kind === 'cannot') throw new Error(`${printed.why} This is a bug in thumbwright.`);
        return printed.lines.map((line, k) => (k === 0 ? '- ' : '  ') + line);
      });
    }
    const printed = printLines(value, spot, layout);
    if (printed.kind === 'cannot') throw new Error(`${printed.why} This is a bug in thumbwright.`);
    return printed.lines;
  }

  #inline(value: YamlValue, spot: PrintSpot, layout = this.layout): string {
    const written = printInline(value, spot, layout);
    if (written.kind === 'cannot') throw new Error(`${written.why} This is a bug in thumbwright.`);
    return written.text;
  }

  #spotOf(slot: YamlSlot): PrintSpot | undefined {
    if (slot.kind === 'pair') return this.#spotOfCollection(slot.map);
    return slot.kind === 'item' ? this.#spotOfCollection(slot.seq) : undefined;
  }

  #spotOfCollection(node: YamlMap | YamlSeq): PrintSpot {
    let spot = this.#spots.get(node);
    if (spot === undefined) this.#spots.set(node, (spot = spotIn(this.#text, node)));
    return spot;
  }

  #mapChanges(map: YamlMap, slot: YamlSlot): MapChanges {
    let changes = this.#maps.get(map);
    if (changes === undefined) this.#maps.set(map, (changes = { slot, removed: new Set(), added: growing() }));
    return changes;
  }

  #seqChanges(seq: YamlSeq, slot: YamlSlot): SeqChanges {
    let changes = this.#seqs.get(seq);
    if (changes === undefined) {
      this.#seqs.set(seq, (changes = { slot, removed: new Set(), added: [], after: seq.items.length - 1 }));
    }
    return changes;
  }
}

function isFlowSlot(slot: YamlSlot): boolean {
  if (slot.kind === 'root') return false;
  return (slot.kind === 'pair' ? slot.map.layout : slot.seq.layout) !== 'block';
}

/** Whether a value ends in a block scalar with `+`. */
function keepsBlanks(text: string, node: YamlNode): boolean {
  if (node.kind === 'scalar') return /^[|>][0-9]*\+/.test(text.slice(node.span.start, node.span.start + 4));
  const last =
    node.kind === 'map' ? node.pairs.at(-1)?.value : node.kind === 'seq' ? node.items.at(-1)?.value : undefined;
  return last !== undefined && keepsBlanks(text, last);
}

function depthOf(slot: YamlSlot): number {
  let depth = 0;
  for (let at = slot; at.kind !== 'root'; at = at.above) depth += 1;
  return depth;
}

/** Whether only blanks stand before an offset on its line. */
function startsOwnLine(text: string, at: number): boolean {
  return text.slice(lineStartBefore(text, at), at).trim() === '';
}

/** Whether an alias elsewhere names this node or one inside it. */
function holdsShared(node: YamlNode): boolean {
  if (node.shared) return true;
  const own = node.kind === 'alias' ? undefined : resolved(node);
  if (own?.kind === 'map') return own.pairs.some((pair) => holdsShared(pair.value));
  return own?.kind === 'seq' && own.items.some((item) => holdsShared(item.value));
}
