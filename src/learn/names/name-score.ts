import type { SettingDefinition } from '../../vocabulary/types.ts';
import { nameWords } from './name-words.ts';

/** Whether two words are one: the same, of one stem, or one the beginning of the other (an abbreviation). */
function alike(a: string, b: string): boolean {
  if (a === b) return true;
  const [short, long] = a.length < b.length ? [a, b] : [b, a];
  return short.length >= 3 && long.startsWith(short) && long.length - short.length <= 4;
}

/**
 * How well a key's name says a setting, 0 to 1: the best of the setting's words of the trade, by how much of it the key
 * says, and how much of the key it is. The last part of a path says most.
 */
export function nameScore(setting: SettingDefinition, key: string): number {
  const said = nameWords(key);
  if (said.length === 0) return 0;
  const phrases = [setting.id.replace(/^hotkeys\.bind\./, ''), ...setting.words];
  let best = 0;
  for (const phrase of phrases) {
    const wanted = nameWords(phrase);
    const joined = wanted.join('');
    const hits = wanted.filter((word) => said.some((own) => alike(own, word))).length;
    const whole = said.some((own) => own === joined) ? wanted.length : hits;
    if (whole === 0) continue;
    best = Math.max(best, (whole / wanted.length) * 0.8 + Math.min(1, whole / said.length) * 0.2);
  }
  return best;
}
