import type { DialectDocument } from '../model/document.ts';
import type { DialectWritten } from '../vocabulary/shapes/dialect.ts';
import { satisfiesVersions } from './frontend-version.ts';

/** New names for old ones. Everything is named in the dialect as it was before the updates that `moved` lists. */
export interface Renames {
  core(id: string): string;
  /** Path relative to the root. */
  file(path: string): string;
  value(setting: string, text: string): string;
  /** Raw key of a file. */
  key(file: string, key: string): string;
}

type Moved = NonNullable<DialectWritten['moved']>[number];

const none: Renames = { core: (id) => id, file: (path) => path, value: (_, text) => text, key: (_, key) => key };

function renamesOf(moves: readonly Moved[]): Renames {
  if (moves.length === 0) return none;
  const find = (names: Readonly<Record<string, string>> | undefined, name: string): string =>
    names !== undefined && Object.hasOwn(names, name) ? (names[name] ?? name) : name;
  const inner = (
    names: Readonly<Record<string, Readonly<Record<string, string>>>> | undefined,
    owner: string,
  ): Readonly<Record<string, string>> | undefined =>
    names !== undefined && Object.hasOwn(names, owner) ? names[owner] : undefined;
  return {
    core: (id) => moves.reduce((name, move) => find(move.core, name), id),
    file: (path) =>
      moves.reduce((at, move) => {
        const whole = find(move.file, at);
        if (whole !== at) return whole;
        // The longest folder that holds it.
        const folders = Object.entries(move.folder ?? {}).sort(([a], [b]) => b.length - a.length);
        const moved = folders.find(([old]) => at === old || at.startsWith(`${old}/`));
        return moved === undefined ? at : moved[1] + at.slice(moved[0].length);
      }, path),
    value: (setting, text) => moves.reduce((spelling, move) => find(inner(move.value, setting), spelling), text),
    key: (file, key) => moves.reduce((name, move) => find(inner(move.key, file), name), key),
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
