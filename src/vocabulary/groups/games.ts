import { everyScope, instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** The collection. A game is its system's folder and its path in there: `burdock/lantern-walk.zip`. */
export const games: readonly SettingDefinition[] = [
  {
    id: 'games.favourites',
    type: { kind: 'texts', of: 'game', examples: ['burdock/lantern-walk.zip'] },
    scopes: instanceOnly,
    roles: ['menu', 'shelf'],
    volatile: true,
    description: 'The games marked as favourites, each as system/path.',
    words: ['favourites', 'favorites', 'favourite', 'favorite', 'starred', 'loved'],
    reads: 'favourites: {value}',
  },
  {
    id: 'games.lists',
    type: { kind: 'lists' },
    scopes: instanceOnly,
    roles: ['menu'],
    volatile: false,
    description: 'Lists of games by name, each game as system/path.',
    words: ['lists', 'collections', 'playlists', 'game lists', 'groups'],
    reads: 'lists of games: {value}',
  },
  {
    id: 'games.hidden',
    type: { kind: 'texts', of: 'game', examples: ['lathe/test-disc.sheet'] },
    scopes: instanceOnly,
    roles: ['menu'],
    volatile: false,
    description: 'Games that the menus do not show, each as system/path.',
    words: ['hidden games', 'hidden', 'hide game', 'hide games', 'invisible'],
    reads: 'hidden games: {value}',
  },
  {
    id: 'games.cheats-folder',
    type: { kind: 'place' },
    scopes: ['instance', 'core', 'system'],
    roles: ['player'],
    volatile: false,
    description: 'The folder of cheat files, as part:folder.',
    words: ['cheats folder', 'cheat directory', 'cheat path', 'cheats dir', 'cheat database'],
    reads: 'folder of cheats: {value}',
  },
  {
    id: 'games.patch-beside-game',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether a patch file that lies beside a game, under the same name, is applied when the game starts.',
    words: ['patch beside game', 'soft patching', 'softpatch', 'patching', 'apply patches', 'auto patch'],
    hazard: 'Saves and states of the patched and the plain game do not fit each other.',
    reads: 'apply patches beside games: {value}',
  },
];
