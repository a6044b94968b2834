import type { Path } from '../model/document.ts';

/** What a document has at a path; undefined: nothing. */
export function valueAt(data: unknown, path: Path): unknown {
  return path.reduce<unknown>((at, member) => {
    if (typeof at !== 'object' || at === null) return undefined;
    return Object.entries(at).find(([name]) => name === String(member))?.[1];
  }, data);
}
