import { visible } from '../../diagnostics/visible.ts';
import { lineColumn, lineStarts } from '../../text/line-index.ts';
import type { Place } from '../../text/place.ts';
import type { Paint } from '../paint.ts';

const widest = 200;

function lineText(text: string, line: number): string {
  const starts = lineStarts(text);
  const from = starts[line - 1] ?? text.length;
  const to = starts[line] ?? text.length;
  return text.slice(from, to).replace(/[\r\n]+$/, '');
}

/** The line at fault and the one before it, with a mark under the place. Control characters are made visible. */
export function codeFrame(
  place: Place,
  mark: (text: string) => string,
  paint: Paint,
  width: number,
): readonly string[] {
  const { source, span } = place;
  const at = lineColumn(source, span.start);
  const end = lineColumn(source, span.end);
  const digits = String(at.line).length;
  const room = Math.min(widest, Math.max(30, width - digits - 5));
  const full = lineText(source.text, at.line);
  // A long line is shown around the place only.
  const from = at.column - 1 > room - 20 ? at.column - 1 - Math.floor(room / 2) : 0;
  const shown = visible(full.slice(from, from + room));
  const before = visible(full.slice(from, at.column - 1));
  const marked = end.line === at.line ? full.slice(at.column - 1, end.column - 1) : full.slice(at.column - 1);
  const length = Math.max(1, Math.min(visible(marked).trimEnd().length, room - before.length));
  const lines: string[] = [];
  const gutter = (line: number | undefined): string =>
    paint.faint(`${line === undefined ? ' '.repeat(digits) : String(line).padStart(digits)} |`);
  if (at.line > 1 && from === 0) {
    const previous = visible(lineText(source.text, at.line - 1).slice(0, room));
    if (previous.trim() !== '') lines.push(`${gutter(at.line - 1)} ${previous}`);
  }
  lines.push(`${gutter(at.line)} ${shown}`);
  lines.push(`${gutter(undefined)} ${' '.repeat(before.length)}${mark('^'.repeat(length))}`);
  return lines;
}

/** `profiles/fen.yaml:12:5` */
export function placeText(place: Place): string {
  const at = lineColumn(place.source, place.span.start);
  return `${visible(place.source.name)}:${at.line}:${at.column}`;
}
