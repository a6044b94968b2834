import type { ValueType } from '../vocabulary/types.ts';

/** What the values of a kind of setting are, for messages. */
export const kindWords: Readonly<Record<ValueType['kind'], string>> = {
  boolean: 'true or false',
  word: 'one word of a list',
  number: 'a number',
  quantity: 'an amount with a unit',
  text: 'a text',
  secret: 'a secret',
  control: 'a control',
  bind: 'a hotkey',
  place: 'a folder',
  words: 'several words of a list',
  texts: 'several texts',
  networks: 'a list of networks',
  cores: 'a core for each system',
  options: 'a text for each option',
  lists: 'lists of games',
};
