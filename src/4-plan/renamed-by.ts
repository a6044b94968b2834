import { renamesBetween } from '../dialect/moved.ts';
import type { Renames } from '../dialect/moved.ts';
import type { CardRecord } from '../model/record.ts';
import type { Resolved } from '../model/resolved.ts';
import type { Renamed } from './find-moves.ts';

/** The renames that the dialects list between the versions in the record and those now on the card. */
export function renamedBy(
  resolved: Resolved,
  record: CardRecord | undefined,
  versions: ReadonlyMap<string, string | undefined>,
): Renamed {
  const known = new Map<string, { readonly prefix: string; readonly renames: Renames }>();
  for (const instance of resolved.instances) {
    const from = record?.instances.get(instance.name)?.version;
    const to = versions.get(instance.name) ?? instance.version;
    if (from === undefined || to === undefined || from === to) continue;
    const prefix = instance.root.endsWith(':') ? instance.root : `${instance.root}/`;
    known.set(instance.name, { prefix, renames: renamesBetween(instance.dialect, from, to) });
  }
  return ({ instance, file, path, key }) => {
    const update = known.get(instance);
    if (update === undefined) return { path, key };
    const { prefix, renames } = update;
    return {
      path: path.startsWith(prefix) ? prefix + renames.file(path.slice(prefix.length)) : path,
      key: renames.key(file, key),
    };
  };
}
