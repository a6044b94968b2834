/** A half-open range of UTF-16 offsets in one text. `end >= start >= 0`. */
export interface Span {
  readonly start: number;
  readonly end: number;
}
