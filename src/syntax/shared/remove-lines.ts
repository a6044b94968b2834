import type { KeyedLine } from './keyed-line.ts';
import type { KeyGroup, KeyedTree } from './keyed-tree.ts';
import type { LinePlan } from './line-plan.ts';
import { afterLineEnd, lineStop } from './physical-lines.ts';
import { bodyStart, ownHeaderStart } from './section-layout.ts';

/**
 * Takes out every line of the removed names (folded), duplicates too. A section at the end of the text that holds nothing
 * else goes with them, so that removing what was inserted gives the first bytes; `kept` are groups that get new keys.
 */
export function removeLines(
  tree: KeyedTree,
  removed: ReadonlyMap<KeyGroup, ReadonlySet<string>>,
  kept: ReadonlySet<KeyGroup>,
  plan: LinePlan,
): void {
  if (removed.size === 0) return;
  const { text } = tree.source;
  const lines = new Set<KeyedLine>();
  for (const [group, names] of removed) {
    for (const line of group.lines) if (names.has(tree.grammar.fold(line.name))) lines.add(line);
  }
  for (const { start, stop } of lines) plan.cut({ start, end: afterLineEnd(text, stop) });
  cutSections(tree, lines, kept, plan);
}

function cutSections(
  tree: KeyedTree,
  lines: ReadonlySet<KeyedLine>,
  kept: ReadonlySet<KeyGroup>,
  plan: LinePlan,
): void {
  const { text } = tree.source;
  let left = tree.headers.length;
  const ofName = new Map<string, number>();
  for (const line of tree.order) {
    if (line.kind !== 'section') continue;
    const folded = tree.grammar.fold(line.name);
    ofName.set(folded, (ofName.get(folded) ?? 0) + 1);
  }
  let end = text.length;
  let at = tree.order.length - 1;
  // From the last one on, as if they went one after the other: each undoes what adding it did.
  for (; at >= 0; at--) {
    let from = end;
    let line = tree.order[at];
    while (line?.kind === 'key' && lines.has(line) && afterLineEnd(text, line.stop) === from) {
      from = line.start;
      line = tree.order[--at];
    }
    if (line?.kind !== 'section' || from === end) break;
    const group = tree.groups.get(tree.grammar.fold(line.name));
    if (group === undefined || kept.has(group) || !group.headers.has(line)) break;
    const body = bodyStart(text, line);
    if (body !== from) {
      // An empty line between header and keys: the header stood there before us (see `KeyHomes`).
      const stop = lineStop(text, body);
      if (stop === body && afterLineEnd(text, stop) === from) plan.cut({ start: body, end: from });
      break;
    }
    // Where the last of several sections of one name counts, an earlier one would count again in its place.
    if (tree.style.sections === 'last' && (ofName.get(tree.grammar.fold(line.name)) ?? 0) > 1) break;
    left -= 1;
    const above = ownHeaderStart(tree, line, left);
    if (above === undefined) break;
    plan.cut({ start: above, end: body });
    end = above;
  }
}
