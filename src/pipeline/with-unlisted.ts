import { unlistedEdits } from '../3-compile/unlisted-edits.ts';
import { styleOf } from '../dialect/style-of.ts';
import type { Lens, RecordLookup } from '../dialect/contract.ts';
import type { Compiled } from '../model/compiled.ts';
import { listName } from '../model/list-name.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardRecord, RecordedFile } from '../model/record.ts';
import type { Tree } from '../syntax/contract.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { SourceText } from '../text/source-text.ts';

/**
 * A compiled profile with what takes favourites, lists and hidden games and systems from those that it does not list,
 * told by the records that stand in the files before us. `recorded`: what we own there, where that is known; `record`:
 * what it is known from.
 */
export function withUnlisted(
  compiled: Compiled,
  lenses: ReadonlyMap<string, Lens>,
  base: (path: CardPath) => SourceText | undefined,
  recorded: readonly RecordedFile[] = [],
  record?: CardRecord,
): Compiled {
  const trees = new Map<CardPath, Tree | undefined>();
  const list =
    (name: string): RecordLookup =>
    (file, path, at, fields) => {
      const instance = compiled.resolved.instances.find((one) => one.name === name);
      const written = instance?.dialect.data.files[file];
      if (written === undefined) return [];
      const syntax = syntaxes[written.syntax];
      if (!trees.has(path)) {
        const source = base(path);
        trees.set(path, source === undefined ? undefined : syntax.parse(source, styleOf(written.style)).tree);
      }
      const tree = trees.get(path);
      return tree === undefined ? [] : (syntax.records?.list(tree, at, fields) ?? []);
    };
  const owned = recorded.flatMap(({ path, keys }) =>
    keys.flatMap((key) => (key.record === undefined ? [] : [{ ...key, path }])),
  );
  const unlisted = unlistedEdits(
    compiled,
    lenses,
    list,
    owned,
    (instance, setting, item) =>
      record?.instances.get(instance)?.emptyLists?.includes(listName(setting, item)) === true,
  );
  return unlisted.length === 0 ? compiled : { ...compiled, edits: [...compiled.edits, ...unlisted] };
}
