import type { Span } from '../../text/span.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { lineEndAfter, lineEndNear } from './line-plan.ts';

/** Items parted by commas between brackets, `#` beginning a comment: TOML arrays and inline tables, YAML flow. */
export interface CommaItems {
  /** Between the brackets. */
  readonly inner: Span;
  readonly items: readonly Span[];
}

/** The offset of the comma in a gap between items (comments skipped), or undefined. */
function commaIn(text: string, from: number, to: number): number | undefined {
  for (let k = from; k < to; k++) {
    if (text[k] === '#') k = lineEndAfter(text, k) - 1;
    else if (text[k] === ',') return k;
  }
  return undefined;
}

/** The blanks before `at` on its line, when nothing else stands there; not further back than `floor`. */
function indentBefore(text: string, at: number, floor: number): string | undefined {
  let k = at;
  while (k > floor && (text[k - 1] === ' ' || text[k - 1] === '\t')) k -= 1;
  return k > floor && (text[k - 1] === '\n' || text[k - 1] === '\r') ? text.slice(k, at) : undefined;
}

/** The whole lines of an item that shares them with no other: its indent, itself, its comma and comment. */
function ownLines(text: string, { inner, items }: CommaItems, index: number): (Span & { indent: string }) | undefined {
  const item = items[index];
  const indent = item === undefined ? undefined : indentBefore(text, item.start, inner.start);
  if (item === undefined || indent === undefined) return undefined;
  const limit = items[index + 1]?.start ?? inner.end;
  let at = item.end;
  while (at < limit && (text[at] === ' ' || text[at] === '\t' || text[at] === ',')) at += 1;
  if (at >= limit || !(text[at] === '#' || text[at] === '\n' || text[at] === '\r')) return undefined;
  const end = lineEndAfter(text, at);
  return end <= limit ? { start: item.start - indent.length, end, indent } : undefined;
}

/** Edits that take items out. Comments on lines of their own stay where each item has its own line. */
export function removeItems(text: string, list: CommaItems, removed: ReadonlySet<number>): readonly TextEdit[] {
  const { inner, items } = list;
  const edits: TextEdit[] = [];
  const cut = (start: number, end: number): number => edits.push({ span: { start, end }, text: '' });
  for (let from = 0; from < items.length; from++) {
    if (!removed.has(from)) continue;
    let to = from;
    while (removed.has(to + 1) && to + 1 < items.length) to += 1;
    const first = items[from];
    const last = items[to];
    if (first === undefined || last === undefined) break;
    const kept = from > 0 ? items[from - 1] : undefined;
    const next = items[to + 1];
    const lines: Span[] = [];
    for (let k = from; k <= to; k++) {
      const own = ownLines(text, list, k);
      if (own !== undefined) lines.push(own);
    }
    const finalComma = next === undefined ? commaIn(text, last.end, inner.end) : undefined;
    if (lines.length === to - from + 1) {
      // A list without a comma at its end keeps to that.
      const comma =
        next === undefined && kept !== undefined && finalComma === undefined
          ? commaIn(text, kept.end, first.start)
          : undefined;
      if (comma !== undefined) cut(comma, comma + 1);
      for (const { start, end } of lines) cut(start, end);
    } else if (next !== undefined) cut(first.start, next.start);
    else if (kept !== undefined) cut(kept.end, last.end);
    else cut(first.start, finalComma === undefined ? last.end : finalComma + 1);
    from = to;
  }
  return edits;
}

/** Edits that put new items after the item at `after` (-1: at the start), laid out as the list is. */
export function insertItems(
  text: string,
  list: CommaItems,
  after: number,
  added: readonly string[],
): readonly TextEdit[] {
  const { inner, items } = list;
  const at = (offset: number, insert: string): TextEdit => ({ span: { start: offset, end: offset }, text: insert });
  const before = items[after];
  const next = items[after + 1];
  if (added.length === 0) return [];
  if (next !== undefined) {
    const own = ownLines(text, list, after + 1);
    if (own === undefined) return [at(next.start, added.map((item) => `${item}, `).join(''))];
    const eol = lineEndNear(text, own.start, '\n');
    return [at(own.start, added.map((item) => `${own.indent}${item},${eol}`).join(''))];
  }
  if (before === undefined) return [at(inner.start, added.join(', '))];
  const finalComma = commaIn(text, before.end, inner.end);
  const own = ownLines(text, list, after);
  if (own === undefined) {
    if (finalComma === undefined) return [at(before.end, added.map((item) => `, ${item}`).join(''))];
    return [at(finalComma + 1, added.map((item) => ` ${item},`).join(''))];
  }
  const eol = lineEndNear(text, own.end, '\n');
  const lines = added.map((item) => `${own.indent}${item}`).join(`,${eol}`);
  if (finalComma !== undefined) return [at(own.end, `${lines},${eol}`)];
  return [at(before.end, ','), at(own.end, `${lines}${eol}`)];
}
