import type { SourceText } from './source-text.ts';
import type { Span } from './span.ts';

/** A range in a named text: what a finding points at and where a value came from. */
export interface Place {
  readonly source: SourceText;
  readonly span: Span;
}
