import type { Span } from '../text/span.ts';
import type { TextEdit } from '../text/text-edit.ts';

/** Where the replacements of sorted edits stand in the new text. */
export function placesAfter(edits: readonly TextEdit[]): readonly Span[] {
  let shift = 0;
  return edits.map(({ span, text }) => {
    const start = span.start + shift;
    shift += text.length - (span.end - span.start);
    return { start, end: start + text.length };
  });
}

/** Places of the text before sorted edits, in the text after them. */
export function movedBy(edits: readonly TextEdit[], places: readonly Span[]): readonly Span[] {
  const move = (offset: number): number => {
    let shift = 0;
    for (const { span, text } of edits) {
      if (span.end > offset) break;
      shift += text.length - (span.end - span.start);
    }
    return offset + shift;
  };
  return places.map(({ start, end }) => ({ start: move(start), end: Math.max(move(start), move(end)) }));
}
