import { work } from '../apply-world.ts';

/** What the driver writes: a change, a removal, a new file in a new folder, a file for its owner only. */
export const driverWorks = [
  work('games:sill/menu.json', '{"wide":1}\n', '{"wide":2}\n'),
  work('games:sill/old.json', '{}\n', null),
  work('settings:hall/play.conf', 'soft: 1\n', 'soft: 2\n'),
  work('settings:hall/systems/burdock.conf', null, 'engine: thrush\n', { mode: 0o600 }),
];

export const driverRecord = 'record: 2\n';

/** What stands below the folder before: path, text, mode. */
export const driverStart: readonly (readonly [string, string, number])[] = [
  ['media/games/sill/menu.json', '{"wide":1}\n', 0o644],
  ['media/games/sill/old.json', '{}\n', 0o644],
  ['media/settings/hall/play.conf', 'soft: 1\n', 0o640],
  ['home/.thumbwright/cards/fen-1.yaml', 'record: 1\n', 0o644],
];
