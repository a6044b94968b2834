import { achievements } from './groups/achievements.ts';
import { artwork } from './groups/artwork.ts';
import { cores } from './groups/cores.ts';
import { display } from './groups/display.ts';
import { exit } from './groups/exit.ts';
import { games } from './groups/games.ts';
import { hotkeys } from './groups/hotkeys.ts';
import { inputLag } from './groups/input-lag.ts';
import { menus } from './groups/menus.ts';
import { network } from './groups/network.ts';
import { pad } from './groups/pad.ts';
import { power } from './groups/power.ts';
import { saves } from './groups/saves.ts';
import { sound } from './groups/sound.ts';
import { speed } from './groups/speed.ts';
import { time } from './groups/time.ts';
import { tv } from './groups/tv.ts';
import type { SettingDefinition } from './types.ts';

/** Every setting, in the order in which groups and settings are listed, printed and given wishes. */
export const settings: readonly SettingDefinition[] = [
  ...hotkeys,
  ...pad,
  ...exit,
  ...saves,
  ...display,
  ...inputLag,
  ...speed,
  ...sound,
  ...power,
  ...cores,
  ...menus,
  ...time,
  ...network,
  ...achievements,
  ...artwork,
  ...tv,
  ...games,
];

const byId: ReadonlyMap<string, SettingDefinition> = new Map(settings.map((setting) => [setting.id, setting]));

/** Undefined when no setting has this id. */
export function settingById(id: string): SettingDefinition | undefined {
  return byId.get(id);
}
