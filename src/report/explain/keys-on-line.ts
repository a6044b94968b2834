import type { BuiltFile, BuiltKey } from '../../model/compiled.ts';
import { lineColumn } from '../../text/line-index.ts';
import type { Place } from '../../text/place.ts';

/** Whether a place lies on a line, wholly or in part. */
export function holdsLine(place: Place, line: number): boolean {
  const start = lineColumn(place.source, place.span.start).line;
  const end = lineColumn(place.source, Math.max(place.span.start, place.span.end - 1)).line;
  return start <= line && line <= end;
}

/**
 * The edits behind one line of a built file. A key may span several lines, and several keys may stand on one. A line
 * that was changed only to make room (a heading, a closing bracket, a comma) is told by the key it made room for.
 */
export function keysOnLine(file: BuiltFile, line: number): readonly BuiltKey[] {
  const source = { name: file.path, text: file.text };
  const own = file.keys.filter((key) => key.span !== undefined && holdsLine({ source, span: key.span }, line));
  if (own.length > 0) return own;
  const change = file.changes.find((span) => holdsLine({ source, span }, line));
  if (change === undefined) return [];
  const distance = (key: BuiltKey): number =>
    key.span === undefined ? Infinity : Math.max(change.start - key.span.end, key.span.start - change.end, 0);
  const near = file.keys
    .filter((key) => key.changed && key.span !== undefined)
    .sort((a, b) => distance(a) - distance(b));
  // Lines that were only taken out leave no key behind: then the keys that were removed are told.
  return near.length > 0 ? near.slice(0, 1) : file.keys.filter((key) => key.changed && key.span === undefined);
}
