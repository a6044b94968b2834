import type { SourceText } from '../../text/source-text.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { blankAfter, hasLineEnd, indentAt, lastLine } from './json-layout.ts';
import type { JsonLayout } from './json-layout.ts';
import type { JsonContainer, JsonEntry } from './json-node.ts';

/** Writes a new entry: at this indent when it begins a line, else (undefined) on one line. */
export type NewEntry = (indent: string | undefined) => string;

export interface ContainerPlan {
  readonly removed: ReadonlySet<number>;
  /** New entries by the position they come after; -1: before the first. */
  readonly inserted: ReadonlyMap<number, readonly NewEntry[]>;
  /** One entry a line, where the container has no entries that show it. */
  readonly lines: boolean;
}

/**
 * Edits that take entries out of an object or array and put others in. What is put in after the last entry and
 * taken out again gives the first text: so an empty `{}` is filled over lines, but one with blanks in it is not.
 */
export function editContainer(
  source: SourceText,
  container: JsonContainer,
  plan: ContainerPlan,
  layout: JsonLayout,
): TextEdit[] {
  const { text } = source;
  const { entries } = container;
  const survivors: number[] = [];
  entries.forEach((_, index) => {
    if (!plan.removed.has(index)) survivors.push(index);
  });
  const inserted = new Map<number, NewEntry[]>();
  for (const [after, added] of plan.inserted) {
    let at = after;
    while (at >= 0 && plan.removed.has(at)) at -= 1;
    inserted.set(at, [...(inserted.get(at) ?? []), ...added]);
  }
  const edits: TextEdit[] = [];
  const first = entries[0];
  if (first === undefined) return fillEmpty(source, container, inserted.get(-1) ?? [], plan.lines, layout);
  const sole = inserted.get(-1);
  if (survivors.length === 0) {
    const [start, ...rest] = sole ?? [];
    if (start === undefined) return emptyOut(text, container);
    // The first new entry takes the place of the first old one.
    const blank = text.slice(first.blankStart, first.start);
    edits.push({
      span: { start: first.start, end: first.value.end },
      text: start(hasLineEnd(blank) ? lastLine(blank).replace(/^[\r\n]+/, '') : undefined),
    });
    survivors.push(0);
    inserted.clear();
    inserted.set(0, rest);
  }
  const grows = (inserted.get(survivors.at(-1) ?? -1)?.length ?? 0) > 0;
  edits.push(...removals(text, container, survivors, grows));
  for (const [after, added] of inserted) {
    if (added.length > 0) edits.push(...insertion(source, container, after, added, survivors, layout));
  }
  return edits;
}

function removals(text: string, { entries }: JsonContainer, survivors: readonly number[], grows: boolean): TextEdit[] {
  const cuts: { start: number; end: number }[] = [];
  const kept = new Set(survivors);
  const lastKept = survivors.at(-1) ?? -1;
  const firstKept = survivors[0] ?? -1;
  // Whether a line comment stands before, with no line end left after it by the cuts so far.
  let open = false;
  let openAt = -1;
  entries.forEach((entry, index) => {
    if (kept.has(index)) return;
    const { comma, value, blankStart } = entry;
    const before = text.slice(blankStart, entry.start);
    const follows = blankAfter(text, comma === undefined ? value.end : comma + 1);
    const endsLine = /^[ \t]*[\r\n]/.test((comma === undefined ? '' : text.slice(value.end, comma)) + follows);
    open = entry.afterLineComment || (open && openAt === blankStart);
    // Without a line end, a line comment would swallow what comes next.
    const whole = (!open || endsLine) && (index > firstKept || (hasLineEnd(before) && endsLine));
    cuts.push({ start: whole ? blankStart : entry.start, end: value.end });
    if (comma !== undefined) cuts.push({ start: comma, end: comma + 1 + (whole ? 0 : follows.length) });
    open = open && whole;
    openAt = (comma ?? value.end - 1) + 1;
  });
  const comma = entries[lastKept]?.comma;
  const endsBare = entries.at(-1)?.comma === undefined;
  if (endsBare && !grows && lastKept < entries.length - 1 && comma !== undefined)
    cuts.push({ start: comma, end: comma + 1 });
  cuts.sort((a, b) => a.start - b.start);
  const merged: { start: number; end: number }[] = [];
  for (const cut of cuts) {
    const last = merged.at(-1);
    if (last !== undefined && cut.start <= last.end) last.end = Math.max(last.end, cut.end);
    else merged.push({ ...cut });
  }
  return merged.map((span) => ({ span, text: '' }));
}

/** The blank that parts a new entry from the one before it, and the indent when that begins a line. */
function parting(
  source: SourceText,
  container: JsonContainer,
  model: JsonEntry,
  afterLineComment: boolean,
  layout: JsonLayout,
): { blank: string; indent: string | undefined } {
  const blank = source.text.slice(model.blankStart, model.start);
  if (hasLineEnd(blank)) {
    const line = lastLine(blank);
    return { blank: line, indent: line.replace(/^[\r\n]+/, '') };
  }
  if (afterLineComment) {
    const indent = indentAt(source, container.start) + layout.unit;
    return { blank: layout.eol + indent, indent };
  }
  const second = container.entries[1];
  return { blank: model === container.entries[0] || second === undefined ? layout.gap : blank, indent: undefined };
}

function insertion(
  source: SourceText,
  container: JsonContainer,
  after: number,
  added: readonly NewEntry[],
  survivors: readonly number[],
  layout: JsonLayout,
): TextEdit[] {
  const { entries } = container;
  const at = (offset: number, text: string): TextEdit => ({ span: { start: offset, end: offset }, text });
  if (after < 0) {
    const index = survivors[0] ?? 0;
    const next = entries[index];
    if (next === undefined) return [];
    const { blank, indent } = parting(source, container, next, false, layout);
    const texts = added.map((write) => write(indent));
    if (index === 0 && indent !== undefined) {
      const start = next.blankStart;
      return [at(start, texts.map((text) => `${blank}${text},`).join(''))];
    }
    return [at(next.start, texts.map((text) => `${text},${blank}`).join(''))];
  }
  const previous = entries[after];
  if (previous === undefined) return [];
  const isLast = after === survivors.at(-1);
  const model = (isLast ? entries[entries.length - 1] : entries[after + 1]) ?? previous;
  const { blank, indent } = parting(source, container, model, previous.tailIsLineComment, layout);
  const texts = added.map((write) => blank + write(indent));
  const tail = indent === undefined && !isLast ? (previous.comma ?? previous.value.end - 1) + 1 : previous.tail;
  if (!isLast || entries.at(-1)?.comma !== undefined) return [at(tail, texts.map((text) => `${text},`).join(''))];
  const commaNow = previous.comma === undefined ? [at(previous.value.end, ',')] : [];
  return [...commaNow, at(tail, texts.join(','))];
}

function fillEmpty(
  source: SourceText,
  container: JsonContainer,
  added: readonly NewEntry[],
  lines: boolean,
  layout: JsonLayout,
): TextEdit[] {
  if (added.length === 0) return [];
  const base = indentAt(source, container.start);
  const indent = base + layout.unit;
  const at = container.emptyTail;
  const insert = (text: string): TextEdit[] => [{ span: { start: at, end: at }, text }];
  const rows = (): string => added.map((write) => layout.eol + indent + write(indent)).join(',');
  const row = (): string => added.map((write) => write(undefined)).join(`,${layout.gap}`);
  const inner = source.text.slice(container.start + 1, container.end - 1);
  if (container.emptyTailKind === 'line' || (container.emptyTailKind === 'block' && hasLineEnd(inner)))
    return insert(rows());
  if (container.emptyTailKind === 'block') return insert(` ${row()}`);
  if (inner !== '') return insert(row());
  if (lines) return insert(rows() + layout.eol + base);
  return insert(container.kind === 'object' ? layout.pad + row() + layout.pad : row());
}

/** Takes all entries out: with them the blanks that `fillEmpty` or a person put around them, but no comment. */
function emptyOut(text: string, container: JsonContainer): TextEdit[] {
  const { start, end, entries } = container;
  const first = entries[0];
  const last = entries.at(-1);
  if (first === undefined || last === undefined) return [];
  const before = text.slice(first.blankStart, first.start);
  const lastEnd = (last.comma ?? last.value.end - 1) + 1;
  const after = blankAfter(text, lastEnd);
  const comments = entries.some(({ value, blankStart, comma }, index) => {
    const previous = entries[index - 1];
    const gapBefore =
      previous === undefined ? first.blankStart !== start + 1 : blankStart !== (previous.comma ?? 0) + 1;
    return gapBefore || (comma !== undefined && /[^ \t\r\n]/.test(text.slice(value.end, comma)));
  });
  if (comments || lastEnd + after.length !== end - 1) return removals(text, container, [], false);
  const all = before !== '' && after !== '' && hasLineEnd(before) === hasLineEnd(after);
  const from = before !== '' && after === '' ? first.blankStart : first.start;
  return [{ span: all ? { start: start + 1, end: end - 1 } : { start: from, end: lastEnd }, text: '' }];
}
