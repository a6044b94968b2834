import type { Document, Path } from '../model/document.ts';
import type { SourceText } from '../text/source-text.ts';

/** By JSON Pointer (RFC 6901): start and end of the key (of the value where there is none), then of the value. Plain data. */
export type Positions = ReadonlyMap<string, readonly [number, number, number, number]>;

/** One step of a pointer, escaped as RFC 6901 section 3 says. */
export function pointerStep(step: string | number): string {
  return `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`;
}

/** Member names and indices of a pointer; what reads as an index is one. */
export function pointerPath(pointer: string): Path {
  return pointer
    .split('/')
    .slice(1)
    .map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((step) => (/^(0|[1-9]\d*)$/.test(step) ? Number(step) : step));
}

/** Data with the place of everything in it. A path that is not there is at its nearest parent that is. */
export function makeDocument<T>(source: SourceText, data: T, positions: Positions): Document<T> {
  const find = (path: Path): readonly [number, number, number, number] => {
    for (let steps = path.length; steps >= 0; steps--) {
      const found = positions.get(path.slice(0, steps).map(pointerStep).join(''));
      if (found !== undefined) return found;
    }
    return [0, 0, 0, source.text.length];
  };
  return {
    source,
    data,
    place: (path) => {
      const [, , start, end] = find(path);
      return { source, span: { start, end } };
    },
    keyPlace: (path) => {
      const [start, end, valueStart, valueEnd] = find(path);
      return end > start ? { source, span: { start, end } } : { source, span: { start: valueStart, end: valueEnd } };
    },
  };
}
