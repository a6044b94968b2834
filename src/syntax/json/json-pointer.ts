/** The segments of a JSON pointer (RFC 6901), or undefined when it is malformed. `''` is the whole text. */
export function pointerSegments(pointer: string): readonly string[] | undefined {
  if (pointer === '') return [];
  if (!pointer.startsWith('/') || /~(?![01])/.test(pointer)) return undefined;
  return pointer
    .slice(1)
    .split('/')
    .map((segment) => segment.replaceAll('~1', '/').replaceAll('~0', '~'));
}

/** What is wrong with a pointer, or undefined. */
export function badJsonPointer(pointer: string): string | undefined {
  return pointerSegments(pointer) === undefined
    ? `'${pointer}' is not a JSON pointer: it begins with '/', and '~' stands only in '~0' and '~1'`
    : undefined;
}

/** One segment as it stands in a pointer. */
export function pointerSegment(name: string): string {
  return name.replaceAll('~', '~0').replaceAll('/', '~1');
}

/** RFC 6901 section 4: `0`, or digits without a leading zero. Undefined for anything else. */
export function arrayIndex(segment: string): number | undefined {
  return /^(0|[1-9][0-9]{0,9})$/.test(segment) ? Number(segment) : undefined;
}
