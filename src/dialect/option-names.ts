import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { KeyPaths } from './contract.ts';

/** A key of a setting at one scope point. */
export interface KeyOf {
  readonly file: string;
  readonly path: CardPath;
  readonly key: string;
}

/** Where the options of cores stand. */
export interface OptionPlaces {
  /** The keys of an option at one core; none where it cannot be said there. */
  readonly keysOf: (point: ScopePoint, option: string) => readonly KeyOf[];
  /** Every core that may have options. */
  readonly cores: readonly string[];
  /** Whether a key is another setting's. */
  readonly taken: (key: KeyOf) => boolean;
}

/** Stands for the option's name, and needs no quotes in any syntax. */
const mark = 'zq0option0qz';

/**
 * The names of a core's options that a card has, in file order. A key that another setting or, more closely, another
 * core has is passed over, and so is a name that the dialect would write otherwise.
 */
export function optionNames(
  { keysOf, cores, taken }: OptionPlaces,
  point: ScopePoint,
  keys: KeyPaths,
): readonly string[] {
  const found = new Set<string>();
  for (const { file, path, key } of keysOf(point, mark)) {
    const own = around(key);
    if (own === undefined) continue;
    const closer = cores.flatMap((core) =>
      core === point.core
        ? []
        : keysOf({ core }, mark).flatMap((other) => {
            const ends = other.path === path ? around(other.key) : undefined;
            return ends !== undefined && ends[0].length > own[0].length ? [ends] : [];
          }),
    );
    for (const one of keys(file, path)) {
      const part = within(one, own);
      if (part === undefined || closer.some((ends) => within(one, ends) !== undefined)) continue;
      if (taken({ file, path, key: one })) continue;
      const names = [part, unquoted(part), part.replaceAll('~1', '/').replaceAll('~0', '~')];
      const name = names.find(
        (text) => text !== undefined && keysOf(point, text).some((back) => back.path === path && back.key === one),
      );
      if (name !== undefined) found.add(name);
    }
  }
  return [...found];
}

function around(key: string): readonly [string, string] | undefined {
  const [before, after, more] = key.split(mark);
  return before === undefined || after === undefined || more !== undefined ? undefined : [before, after];
}

function within(key: string, [before, after]: readonly [string, string]): string | undefined {
  return key.length > before.length + after.length && key.startsWith(before) && key.endsWith(after)
    ? key.slice(before.length, key.length - after.length)
    : undefined;
}

function unquoted(part: string): string | undefined {
  if (!part.startsWith('"')) return undefined;
  try {
    const text: unknown = JSON.parse(part);
    return typeof text === 'string' ? text : undefined;
  } catch {
    return undefined;
  }
}
