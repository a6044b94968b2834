import type { Span } from './span.ts';

/** Replace a range of the original text. An insertion has an empty span. Offsets are of the original. */
export interface TextEdit {
  readonly span: Span;
  readonly text: string;
}

/**
 * Applies edits that are sorted by start and disjoint (two insertions at one offset are applied in list order).
 * Throws when they are not: that is a bug of the caller's, never of the input.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  if (edits.length === 0) return text;
  const parts: string[] = [];
  let from = 0;
  for (const edit of edits) {
    const { start, end } = edit.span;
    if (start < from || end < start || end > text.length) {
      throw new Error(`Text edits overlap or are unsorted at offset ${start}. This is a bug in thumbwright.`);
    }
    parts.push(text.slice(from, start), edit.text);
    from = end;
  }
  parts.push(text.slice(from));
  return parts.join('');
}

/** Sorts edits by start, keeping the order of edits that start at the same offset. */
export function sortEdits(edits: readonly TextEdit[]): TextEdit[] {
  return [...edits].sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);
}
