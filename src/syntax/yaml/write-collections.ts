import { insertItems, removeItems } from '../shared/comma-items.ts';
import { lineEndAfter, lineEndNear, lineStartBefore } from '../shared/line-plan.ts';
import type { PrintSpot } from './print-yaml.ts';
import { grown } from './yaml-changes.ts';
import type { MapChanges, SeqChanges } from './yaml-changes.ts';
import { columnOf } from './yaml-layout.ts';
import type { YamlMap, YamlPair, YamlSeq } from './yaml-model.ts';
import { startsOwnLine } from './yaml-sheet.ts';
import type { YamlSheet } from './yaml-sheet.ts';
import type { YamlSlot } from './yaml-tree.ts';
import type { YamlValue } from './yaml-value.ts';

/** Writes what happens to a mapping. */
export function writeMap(sheet: YamlSheet, map: YamlMap, { slot, removed, placed, added }: MapChanges): void {
  const text = sheet.text;
  const spot = sheet.spotIn(map);
  const members = [...added.members].map(([name, value]) => [name, grown(value)] as const);
  if (map.layout !== 'block') {
    writeFlowMap(sheet, map, removed, placed, members, spot);
    return;
  }
  const kept = map.pairs.filter((pair) => !removed.has(pair));
  const first = map.pairs[0];
  const last = map.pairs.at(-1);
  if (first === undefined || last === undefined) return;
  const column = columnOf(text, first.span.start);
  const linesOf = (some: readonly (readonly [string, YamlValue])[]): string[] =>
    some
      .flatMap(([name, value]) => sheet.print({ kind: 'map', members: [[name, value]] }, spot))
      .map((line) => (line === '' ? '' : ' '.repeat(column) + line));
  // Where all that stood there goes, what is placed has nothing to follow.
  const indented = kept.length === 0 ? linesOf([...[...placed.values()].flat(), ...members]) : linesOf(members);
  if (kept.length === 0 && indented.length === 0 && slot.kind !== 'root') {
    if (slot.kind === 'pair' && startsOwnLine(text, first.span.start)) {
      const { at } = slot.pair.hole;
      sheet.lines.replace({ span: { start: at, end: at }, text: ' {}' });
    } else {
      sheet.lines.replace({ span: { start: first.span.start, end: last.span.end }, text: '{}' });
      return;
    }
  }
  const [own, shared] = startsOwnLine(text, first.span.start) ? [map.pairs, []] : [map.pairs.slice(1), [first]];
  const lead = shared.length > 0 && removed.has(first) ? (kept[0]?.index ?? 0) : 0;
  for (const pair of own) {
    if (removed.has(pair) && pair.index >= lead) sheet.cutLines(pair.span, map.pairs[pair.index - 1]?.value);
  }
  if (shared.length > 0 && removed.has(first)) {
    const [next] = kept;
    if (next === undefined) {
      // Its line stays, with what comes.
      const eol = lineEndNear(text, first.span.start, '\n');
      sheet.lines.replace({ span: first.span, text: indented.join(eol).trimStart() });
      return;
    }
    sheet.lines.replace({ span: { start: first.span.start, end: next.span.start }, text: '' });
  }
  if (kept.length > 0) {
    for (const [after, some] of placed) {
      const before = map.pairs[after];
      const lines = linesOf(some);
      if (before !== undefined) sheet.insert(slot, lineEndAfter(text, before.span.end), lines);
      else if (shared.length === 0) sheet.insert(slot, aboveFirst(text, first, slot), lines);
      else {
        const eol = lineEndNear(text, first.span.start, '\n');
        const { start } = first.span;
        sheet.lines.replace({
          span: { start, end: start },
          text: lines.join(eol).trimStart() + eol + ' '.repeat(column),
        });
      }
    }
  }
  if (indented.length > 0) sheet.insert(slot, lineEndAfter(text, last.span.end), indented);
}

/** Before the comments that lead up to the first pair; those at the top of a file speak of the file. */
function aboveFirst(text: string, first: YamlPair, slot: YamlSlot): number {
  let at = lineStartBefore(text, first.span.start);
  if (slot.kind === 'root') return at;
  for (let up = at; up > 0;) {
    up = lineStartBefore(text, text[up - 1] === '\n' && text[up - 2] === '\r' ? up - 2 : up - 1);
    if (!/^[ \t]*#/.test(text.slice(up, at))) break;
    at = up;
  }
  return at;
}

function writeFlowMap(
  sheet: YamlSheet,
  map: YamlMap,
  removed: ReadonlySet<YamlPair>,
  placed: MapChanges['placed'],
  members: readonly (readonly [string, YamlValue])[],
  spot: PrintSpot,
): void {
  const fresh = members.map(([name, value]) => sheet.print({ kind: 'map', members: [[name, value]] }, spot).join(' '));
  const out = new Set<number>();
  for (const pair of removed) {
    const text = fresh.shift();
    if (text === undefined) out.add(pair.index);
    else sheet.lines.replace({ span: pair.span, text });
  }
  const list = {
    inner: { start: map.span.start + 1, end: map.span.end - 1 },
    items: map.pairs.map((pair) => pair.span),
  };
  for (const [after, some] of placed) {
    const texts = some.map(([name, value]) => sheet.print({ kind: 'map', members: [[name, value]] }, spot).join(' '));
    for (const edit of insertItems(sheet.text, list, after, texts)) sheet.lines.replace(edit);
  }
  for (const edit of removeItems(sheet.text, list, out)) sheet.lines.replace(edit);
  for (const edit of insertItems(sheet.text, list, map.pairs.length - 1, fresh)) sheet.lines.replace(edit);
}

/** Writes what happens to a sequence. */
export function writeSeq(sheet: YamlSheet, seq: YamlSeq, { slot, removed, added }: SeqChanges): void {
  if (seq.layout === 'flow') writeFlowSeq(sheet, seq, removed, added);
  else writeBlockSeq(sheet, seq, slot, removed, added);
}

function writeFlowSeq(
  sheet: YamlSheet,
  seq: YamlSeq,
  removed: ReadonlySet<number>,
  added: ReadonlyMap<number, readonly YamlValue[]>,
): void {
  const spot = sheet.spotIn(seq);
  const list = {
    inner: { start: seq.span.start + 1, end: seq.span.end - 1 },
    items: seq.items.map((item) => item.span),
  };
  const out = new Set(removed);
  for (const [after, values] of added) {
    const texts = values.map((value) => sheet.inline(value, spot));
    // Records that come take the places of records that go: two edits at one comma would not go together.
    for (const index of [...out]) {
      const span = list.items[index];
      const text = span === undefined ? undefined : texts.shift();
      if (span === undefined || text === undefined) break;
      sheet.lines.replace({ span, text });
      out.delete(index);
    }
    for (const edit of insertItems(sheet.text, list, after, texts)) sheet.lines.replace(edit);
  }
  for (const edit of removeItems(sheet.text, list, out)) sheet.lines.replace(edit);
}

function writeBlockSeq(
  sheet: YamlSheet,
  seq: YamlSeq,
  slot: YamlSlot,
  removed: ReadonlySet<number>,
  added: ReadonlyMap<number, readonly YamlValue[]>,
): void {
  const { text } = sheet;
  const first = seq.items[0];
  const last = seq.items.at(-1);
  if (first === undefined || last === undefined) return;
  const column = columnOf(text, first.span.start);
  const linesOf = (values: readonly YamlValue[]): string[] =>
    values
      .flatMap((value) => sheet.print({ kind: 'list', items: [value] }, sheet.spotIn(seq), true))
      .map((line) => (line === '' ? '' : ' '.repeat(column) + line));
  const eol = lineEndNear(text, first.span.start, '\n');
  const ownFirst = startsOwnLine(text, first.span.start);
  if (removed.size === seq.items.length && (added.size === 0 || !ownFirst)) {
    const lines = linesOf([...added.values()].flat());
    if (lines.length > 0) {
      sheet.lines.replace({ span: { start: first.span.start, end: last.span.end }, text: lines.join(eol).trimStart() });
      return;
    }
    const hindered = sheet.replaceInline(slot, seq, '[]');
    if (hindered !== undefined) throw new Error('An emptied list has no place. This is a bug in thumbwright.');
    return;
  }
  const lead = !ownFirst && removed.has(0) ? seq.items.findIndex((_, index) => !removed.has(index)) : 0;
  seq.items.forEach((item, index) => {
    if (removed.has(index) && index >= lead) sheet.cutLines(item.span, seq.items[index - 1]?.value);
  });
  const next = seq.items[lead];
  if (lead > 0 && next !== undefined) {
    sheet.lines.replace({ span: { start: first.span.start, end: next.span.start }, text: '' });
  }
  for (const [after, values] of added) {
    const lines = linesOf(values);
    const before = seq.items[after];
    if (before !== undefined) sheet.insert(slot, lineEndAfter(text, before.span.end), lines);
    else if (ownFirst) sheet.insert(slot, lineStartBefore(text, first.span.start), lines);
    else {
      const block = lines.join(eol).trimStart() + eol + ' '.repeat(column);
      sheet.lines.replace({ span: { start: first.span.start, end: first.span.start }, text: block });
    }
  }
}

/** Writes a mapping below a key, or in an item, that has no value. */
export function writeBelow(sheet: YamlSheet, slot: YamlSlot, value: YamlValue): void {
  const text = sheet.text;
  const lines = sheet.print(value, { flow: false, like: undefined, quotedKeys: false });
  if (slot.kind === 'pair') {
    const column = columnOf(text, slot.pair.span.start) + sheet.layout.step;
    sheet.insert(
      slot,
      lineEndAfter(text, slot.pair.hole.at),
      lines.map((line) => ' '.repeat(column) + line),
    );
  } else if (slot.kind === 'item') {
    const { at } = slot.item.hole;
    const glue = lineEndNear(text, at, '\n') + ' '.repeat(columnOf(text, at) + 1);
    sheet.lines.replace({ span: { start: at, end: at }, text: ` ${lines.join(glue)}` });
  }
}
