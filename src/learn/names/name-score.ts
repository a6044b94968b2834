import type { SettingDefinition } from '../../vocabulary/types.ts';
import { keyName } from './key-name.ts';
import { matchName, readyName } from './match-name.ts';
import type { ReadyName } from './match-name.ts';
import { calledAs } from './phrases.ts';
import { partsOf } from './seen-key.ts';
import { weightlessFor } from './weightless.ts';

const none: ReadonlySet<string> = new Set();
const names = new Map<string, ReadyName>();

/** How well a key's name alone says a setting, 0 to 1, whatever its value and its neighbours. */
export function nameScore(setting: SettingDefinition, key: string): number {
  let ready = names.get(key);
  if (ready === undefined) {
    ready = readyName(keyName({ parts: partsOf(key), comment: '', heading: '' }, none));
    if (names.size < 20_000) names.set(key, ready);
  }
  const weightless = weightlessFor(setting, ready.name, none);
  return Math.min(1, matchName(calledAs(setting), ready, { weightless })?.score ?? 0);
}
