import type { Path } from './document.ts';

/** What stands at a path of plain data; undefined where nothing does. */
export function valueAt(data: unknown, path: Path): unknown {
  return path.reduce<unknown>((at, step) => memberOf(at, step), data);
}

function memberOf(at: unknown, step: string | number): unknown {
  if (typeof at !== 'object' || at === null) return undefined;
  const found: unknown = Object.getOwnPropertyDescriptor(at, String(step))?.value;
  return found;
}
