import type { Files } from '../files/contract.ts';
import type { CardFacts } from '../model/card.ts';
import { splitCardPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';

const mostEntries = 200_000;

/** Counts games and looks for files on a card that is mounted or copied. Links are not followed. */
export function cardFacts(
  files: Files,
  resolved: Resolved,
  folderOf: (part: string) => HostPath | undefined,
): CardFacts {
  const games = new Map<string, number>();
  const gamesPart = [...resolved.device.parts.values()].find((part) => part.gamesRoot !== undefined);
  const folder = gamesPart === undefined ? undefined : folderOf(gamesPart.name);
  if (folder !== undefined && gamesPart?.gamesRoot !== undefined) {
    let left = mostEntries;
    const count = (at: HostPath, endings: readonly string[]): number => {
      let sum = 0;
      for (const entry of files.list(at) ?? []) {
        if (left-- <= 0) return sum;
        if (entry.kind === 'folder') sum += count(files.join(at, entry.name), endings);
        else if (
          entry.kind === 'file' &&
          endings.some((ending) => entry.name.toLowerCase().endsWith(ending.toLowerCase()))
        )
          sum += 1;
      }
      return sum;
    };
    for (const [id, system] of Object.entries(resolved.catalog?.data.systems ?? {})) {
      games.set(id, count(files.join(folder, ...gamesPart.gamesRoot.split('/'), system.folder), system.files ?? []));
    }
  }
  return {
    games,
    has: (path) => {
      const { part, path: inPart } = splitCardPath(path);
      let at = folderOf(part);
      for (const name of inPart.split('/')) {
        const found: string | undefined =
          at === undefined
            ? undefined
            : files.list(at)?.find((entry) => entry.name.toLowerCase() === name.toLowerCase())?.name;
        at = at === undefined || found === undefined ? undefined : files.join(at, found);
      }
      return at !== undefined;
    },
  };
}
