import type { Span } from '../../text/span.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { LinePlan, lineEndAfter, lineStartBefore } from '../shared/line-plan.ts';
import { printInline, printLines } from './print-yaml.ts';
import type { PrintSpot, YamlLayout } from './print-yaml.ts';
import type { Hindrance } from './yaml-changes.ts';
import { layoutOf, spotIn } from './yaml-layout.ts';
import type { YamlMap, YamlNode, YamlSeq } from './yaml-model.ts';
import type { YamlSlot, YamlTree } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** The text that a plan writes on: how it is laid out, and the edits gathered so far. */
export class YamlSheet {
  readonly tree: YamlTree;
  readonly text: string;
  readonly lines: LinePlan;
  readonly #spots = new Map<YamlNode, PrintSpot>();
  readonly #inserts: { at: number; depth: number; lines: readonly string[] }[] = [];
  #layout: YamlLayout | undefined;

  constructor(tree: YamlTree) {
    this.tree = tree;
    this.text = tree.source.text;
    this.lines = new LinePlan(this.text, tree.style.lineEnd);
  }

  get layout(): YamlLayout {
    return (this.#layout ??= layoutOf(this.tree));
  }

  /** Adds lines for a collection that hangs in a slot. At one place, what belongs deeper stands first. */
  insert(slot: YamlSlot, at: number, lines: readonly string[]): void {
    this.#inserts.push({ at, depth: depthOf(slot), lines });
  }

  finish(): readonly TextEdit[] {
    for (const { at, lines } of this.#inserts.sort((a, b) => b.depth - a.depth)) this.lines.insert(at, lines);
    return this.lines.finish();
  }

  replaceInline(slot: YamlSlot, node: YamlNode, written: string): Hindrance {
    const text = this.text;
    if (node.kind === 'scalar' && node.style === 'empty') {
      if (slot.kind === 'root') this.lines.replace({ span: node.span, text: ` ${written}` });
      else {
        const { hole } = slot.kind === 'pair' ? slot.pair : slot.item;
        const explicit =
          slot.kind === 'pair' && /^\?(?:\s|$)/.test(text.slice(slot.pair.span.start, slot.pair.span.start + 2));
        if (!hole.colon && (explicit || !isFlowSlot(slot))) return { kind: 'no-place', why: 'its key has no colon.' };
        this.lines.replace({
          span: { start: hole.at, end: hole.at },
          text: hole.colon ? ` ${written}` : `: ${written}`,
        });
      }
      return undefined;
    }
    if ((node.kind === 'map' || node.kind === 'seq') && node.layout === 'block') {
      if (slot.kind === 'pair' && startsOwnLine(text, node.span.start)) {
        const { at } = slot.pair.hole;
        this.lines.replace({ span: { start: at, end: at }, text: ` ${written}` });
        // Comments behind the key, on lines below it, and behind the last line stay.
        const line = lineStartBefore(text, node.span.start);
        const start = line - (text[line - 2] === '\r' ? 2 : 1);
        this.lines.replace({ span: { start, end: node.span.end }, text: '' });
      } else this.lines.replace({ span: node.span, text: written });
      return undefined;
    }
    let comment = '';
    if (node.kind === 'scalar' && (node.style === 'literal' || node.style === 'folded')) {
      comment = /^[|>][-+0-9]*([ \t]+#[^\r\n]*)/.exec(text.slice(node.span.start, node.span.end))?.[1] ?? '';
    }
    this.lines.replace({ span: node.span, text: written + comment });
    return undefined;
  }

  /** Takes out the lines of a pair or item; `before` is the value above it. */
  cutLines(span: Span, before: YamlNode | undefined): void {
    const text = this.text;
    let end = lineEndAfter(text, span.end);
    // Blank lines below would become part of a block scalar above that keeps them.
    if (before !== undefined && keepsBlanks(text, before)) {
      for (let next = lineEndAfter(text, end); end < text.length && text.slice(end, next).trim() === '';) {
        end = next;
        next = lineEndAfter(text, end);
      }
    }
    this.lines.cut({ start: lineStartBefore(text, span.start), end });
  }

  /** What was printed once, when the change was asked for, cannot fail now. */
  print(value: YamlValue, spot: PrintSpot, blockList = false): readonly string[] {
    const layout = blockList ? { ...this.layout, flowLists: false } : this.layout;
    if (spot.flow && value.kind === 'map') {
      const layoutBare = { ...layout, padded: false };
      return value.members.map((member) =>
        this.inline({ kind: 'map', members: [member] }, spot, layoutBare).slice(1, -1),
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

  inline(value: YamlValue, spot: PrintSpot, layout = this.layout): string {
    const written = printInline(value, spot, layout);
    if (written.kind === 'cannot') throw new Error(`${written.why} This is a bug in thumbwright.`);
    return written.text;
  }

  spotOf(slot: YamlSlot): PrintSpot | undefined {
    if (slot.kind === 'pair') return this.spotIn(slot.map);
    return slot.kind === 'item' ? this.spotIn(slot.seq) : undefined;
  }

  spotIn(node: YamlMap | YamlSeq): PrintSpot {
    let spot = this.#spots.get(node);
    if (spot === undefined) this.#spots.set(node, (spot = spotIn(this.text, node)));
    return spot;
  }
}

export function isFlowSlot(slot: YamlSlot): boolean {
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
export function startsOwnLine(text: string, at: number): boolean {
  return text.slice(lineStartBefore(text, at), at).trim() === '';
}
