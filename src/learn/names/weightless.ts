import { isAboutControl } from '../../vocabulary/about-control.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { KeyName } from './key-name.ts';
import type { Word } from './lexicon.ts';

const bindFillers: ReadonlySet<string> = new Set(
  'button btn key keys hotkey hotkeys bind binding game machine system content now joy pad combo chord shortcut control action press player play input taste tecla touche trigger do grip frame'.split(
    ' ',
  ),
);

const valueWords: ReadonlySet<string> = new Set(
  'percent percentage value amount level mb kb mib kib ms sec seconds millis type kind name picture screen video game games state play'.split(
    ' ',
  ),
);

function isUnit(word: Word, { unit }: KeyName): boolean {
  return unit !== undefined && word.text.startsWith('frame') && unit.unit === 'frames';
}

/** Words of a key that say nothing of whether it is this setting. `facets`: words that tell forms of a control apart. */
export function weightlessFor(
  setting: SettingDefinition,
  name: KeyName,
  facets: ReadonlySet<string>,
): (word: Word) => boolean {
  if (isAboutControl(setting)) return ({ text }) => bindFillers.has(text) || facets.has(text);
  const group = setting.id.split('.')[0] ?? '';
  return (word) => word.text === group || isUnit(word, name) || valueWords.has(word.text);
}
