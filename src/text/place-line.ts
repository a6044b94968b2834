import { lineColumn } from './line-index.ts';
import type { Place } from './place.ts';

/** `profiles/fen.yaml:17` */
export function placeLine({ source, span }: Place): string {
  return `${source.name}:${lineColumn(source, span.start).line}`;
}
