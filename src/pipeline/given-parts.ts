import type { CardFolders } from '../1-load/base-files.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';

/**
 * The folder of each part that was given: its own (`--card games=DIR`), or the folder of its name below the whole card.
 * A whole card of a device with one part is that part. What is not given is not touched.
 */
export function givenParts(
  files: Files,
  names: readonly string[],
  card: CardFolders,
): { readonly folders: ReadonlyMap<string, HostPath>; readonly unknown: readonly string[] } {
  const folders = new Map<string, HostPath>();
  const [only] = names;
  for (const name of names) {
    const own = card.parts.get(name);
    if (own !== undefined) folders.set(name, own);
    else if (card.whole !== undefined) {
      const below = files.join(card.whole, name);
      if (files.kind(below) === 'folder') folders.set(name, below);
    }
  }
  if (folders.size === 0 && card.whole !== undefined && names.length === 1 && only !== undefined)
    folders.set(only, card.whole);
  return { folders, unknown: [...card.parts.keys()].filter((name) => !names.includes(name)) };
}
