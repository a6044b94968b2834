/** One-based line and column (column in UTF-16 units). */
export interface LineColumn {
  readonly line: number;
  readonly column: number;
}

const indexes = new WeakMap<object, readonly number[]>();

/** Offsets at which lines start. A line ends at LF, CRLF or a lone CR. */
export function lineStarts(text: string): readonly number[] {
  const starts = [0];
  const ends = /\r\n|\n|\r/g;
  while (ends.exec(text) !== null) starts.push(ends.lastIndex);
  return starts;
}

/** Where an offset lies. The line starts are worked out once for each source object. */
export function lineColumn(source: { readonly text: string }, offset: number): LineColumn {
  let starts = indexes.get(source);
  if (starts === undefined) indexes.set(source, (starts = lineStarts(source.text)));
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: offset - (starts[low] ?? 0) + 1 };
}
