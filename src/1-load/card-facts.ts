import type { Files } from '../files/contract.ts';
import type { CardFacts } from '../model/card.ts';
import { cardPath, splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';

const mostEntries = 200_000;

/** Counts games and looks for files on a card that is mounted or copied. Links are not followed. */
export function cardFacts(
  files: Files,
  resolved: Resolved,
  folderOf: (part: string) => HostPath | undefined,
  room: CardFacts['room'],
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
  const spelled = (path: CardPath): CardPath | undefined => {
    const { part, path: inPart } = splitCardPath(path);
    let at = folderOf(part);
    const names: string[] = [];
    for (const name of inPart.split('/')) {
      const there: readonly string[] = at === undefined ? [] : (files.list(at) ?? []).map((entry) => entry.name);
      const found = there.includes(name) ? name : there.find((other) => other.toLowerCase() === name.toLowerCase());
      if (at === undefined || found === undefined) return undefined;
      names.push(found);
      at = files.join(at, found);
    }
    return cardPath(`${part}:${names.join('/')}`);
  };
  return {
    games,
    room,
    spelled,
    has: (path) => spelled(path) !== undefined,
    larger: (part, bytes) => largerFiles(files, resolved, folderOf(part), part, bytes),
  };
}

/** Files below the games' and firmware's folders of a part that are longer than that. */
function largerFiles(
  files: Files,
  resolved: Resolved,
  folder: HostPath | undefined,
  part: string,
  most: number,
): readonly { readonly path: CardPath; readonly bytes: number }[] {
  const { gamesRoot, firmwareRoot } = resolved.device.parts.get(part) ?? {};
  const found: { path: CardPath; bytes: number }[] = [];
  let left = mostEntries;
  const look = (at: HostPath, members: readonly string[]): void => {
    for (const entry of files.list(at) ?? []) {
      if (left-- <= 0) return;
      const below = files.join(at, entry.name);
      if (entry.kind === 'folder') look(below, [...members, entry.name]);
      const bytes = entry.kind === 'file' ? files.size?.(below) : undefined;
      const path = cardPath(`${part}:${[...members, entry.name].join('/')}`);
      if (bytes !== undefined && bytes > most && path !== undefined) found.push({ path, bytes });
    }
  };
  for (const root of new Set([gamesRoot, firmwareRoot])) {
    if (folder === undefined || root === undefined) continue;
    const members = root.split('/').filter((name) => name !== '');
    look(files.join(folder, ...members), members);
  }
  return found;
}
