import type { Lens } from '../dialect/contract.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { Instance, Resolved } from '../model/resolved.ts';
import type { CardText } from './card-text.ts';

export interface GamesWithFiles {
  readonly games: readonly { readonly system: string; readonly game: string }[];
  /** Files of which the game cannot be told: none on the card has the name, or several have. */
  readonly untold: readonly CardPath[];
}

/** Stand for a game's name without its ending, and for the ending. */
const stem = 'zq0game0qz';
const ending = 'zq0end0qz';

/** The games that have files of their own on a card, by an instance's dialect; of files that are found by their name alone. */
export function gamesWithFiles(resolved: Resolved, instance: Instance, lens: Lens, card: CardText): GamesWithFiles {
  const games: { system: string; game: string }[] = [];
  const untold: CardPath[] = [];
  const seen = new Set<string>();
  for (const [system, { folder: systemFolder }] of Object.entries(resolved.catalog?.data.systems ?? {})) {
    for (const id of Object.keys(instance.dialect.data.files)) {
      const path = lens.path(id, { system, game: `${stem}.${ending}` });
      const cut = path?.lastIndexOf('/') ?? -1;
      const folder = path === undefined || cut < 0 ? undefined : cardPath(path.slice(0, cut));
      const name = path?.slice(cut + 1) ?? '';
      if (path === undefined || folder === undefined || !name.includes(stem) || folder.includes(stem)) continue;
      const whole = name.includes(`${stem}.${ending}`);
      const [before = '', after, more] = name.split(whole ? `${stem}.${ending}` : stem);
      if (after === undefined || more !== undefined || after.includes(ending)) continue;
      for (const file of card.below(folder)) {
        if (file.length <= before.length + after.length || !file.startsWith(before) || !file.endsWith(after)) continue;
        const text = file.slice(before.length, file.length - after.length);
        const game = whole ? text : onlyGame(resolved, systemFolder, text, card);
        const own = cardPath(`${folder}/${file}`);
        if (game === undefined || lens.path(id, { system, game }) !== own) {
          if (own !== undefined && !untold.includes(own)) untold.push(own);
          continue;
        }
        const key = `${system}/${game}`;
        if (seen.has(key)) continue;
        seen.add(key);
        games.push({ system, game });
      }
    }
  }
  return { games, untold };
}

/** The one game of a system on the card whose name is this without its ending. */
function onlyGame(resolved: Resolved, systemFolder: string, name: string, card: CardText): string | undefined {
  const found = [...resolved.device.parts.values()].flatMap(({ name: part, gamesRoot }) => {
    const folder = gamesRoot === undefined ? undefined : cardPath(`${part}:${gamesRoot}/${systemFolder}`);
    return folder === undefined ? [] : card.below(folder).filter((file) => file.replace(/\.[^.]*$/, '') === name);
  });
  const [only, more] = [...new Set(found)];
  return more === undefined ? only : undefined;
}
