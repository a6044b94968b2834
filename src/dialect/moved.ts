import type { DialectDocument } from '../model/document.ts';
import type { DialectWritten } from '../vocabulary/shapes/dialect.ts';
import { satisfiesVersions } from './frontend-version.ts';

/** New names for old ones. Everything is named in the dialect as it was before the updates that `moved` lists. */
export interface Renames {
  core(id: string): string;
  /** Path relative to the root. `before`: as it was with the core ids of then, by which a file may be listed. */
  file(path: string, before?: string): string;
  value(setting: string, text: string): string;
  /** The old spelling that is this one now; the text itself where none is. */
  valueBefore(setting: string, text: string): string;
  /** Whether spellings of a setting have new names. */
  respells(setting: string): boolean;
  /** Raw key of a file; `before` as for a path. */
  key(file: string, key: string, before?: string): string;
}

type Moved = NonNullable<DialectWritten['moved']>[number];

const none: Renames = {
  core: (id) => id,
  file: (path) => path,
  value: (_, text) => text,
  valueBefore: (_, text) => text,
  respells: () => false,
  key: (_, key) => key,
};

function renamesOf(moves: readonly Moved[]): Renames {
  if (moves.length === 0) return none;
  const find = (names: Readonly<Record<string, string>> | undefined, name: string): string =>
    names !== undefined && Object.hasOwn(names, name) ? (names[name] ?? name) : name;
  const inner = (
    names: Readonly<Record<string, Readonly<Record<string, string>>>> | undefined,
    owner: string,
  ): Readonly<Record<string, string>> | undefined =>
    names !== undefined && Object.hasOwn(names, owner) ? names[owner] : undefined;
  const within = (move: Moved, path: string): string => {
    // The longest folder that holds it.
    const folders = Object.entries(move.folder ?? {}).sort(([a], [b]) => b.length - a.length);
    const moved = folders.find(([old]) => path === old || path.startsWith(`${old}/`));
    return moved === undefined ? path : moved[1] + path.slice(moved[0].length);
  };
  return {
    core: (id) => moves.reduce((name, move) => find(move.core, name), id),
    file(path, before = path) {
      let [at, was] = [path, before];
      for (const move of moves) {
        const listed = [was, at].find((one) => Object.hasOwn(move.file ?? {}, one));
        if (listed === undefined) [at, was] = [within(move, at), within(move, was)];
        else at = was = find(move.file, listed);
      }
      return at;
    },
    value: (setting, text) => moves.reduce((spelling, move) => find(inner(move.value, setting), spelling), text),
    valueBefore: (setting, text) =>
      moves.reduceRight((spelling, move) => {
        const old = Object.entries(inner(move.value, setting) ?? {}).find(([, now]) => now === spelling);
        return old === undefined ? spelling : old[0];
      }, text),
    respells: (setting) => moves.some((move) => inner(move.value, setting) !== undefined),
    key(file, key, before = key) {
      let [name, was] = [key, before];
      for (const move of moves) {
        const keys = inner(move.key, file);
        const listed = [was, name].find((one) => keys !== undefined && Object.hasOwn(keys, one));
        if (listed !== undefined) name = was = find(keys, listed);
      }
      return name;
    },
  };
}

/** What has been renamed at this frontend version, updates in the dialect's order. An unknown version: nothing. */
export function renamesAt(dialect: DialectDocument, version: string | undefined): Renames {
  if (version === undefined) return none;
  return renamesOf((dialect.data.moved ?? []).filter((move) => satisfiesVersions(version, move.versions)));
}

/** What an update from one version to another renames. */
export function renamesBetween(dialect: DialectDocument, from: string, to: string): Renames {
  const moves = dialect.data.moved ?? [];
  return renamesOf(
    moves.filter((move) => satisfiesVersions(to, move.versions) && !satisfiesVersions(from, move.versions)),
  );
}
