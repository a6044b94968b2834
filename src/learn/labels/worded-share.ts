import type { Value } from '../../model/value.ts';
import type { Point } from '../codecs/contract.ts';
import { nameWords } from '../names/name-words.ts';

/** The words of a value that has words of its own. */
function wordsOf(value: Value): string {
  const text = value.kind === 'word' ? value.word : value.kind === 'text' ? value.text : '';
  return nameWords(text).join('');
}

/**
 * Of the values seen, the share whose words are the text's words, `no-settings` and `No Settings` say; numbers and single
 * letters are no words. A text that a program wrote for something else seldom has them.
 */
export function wordedShare(points: readonly Point[]): number {
  const seen = new Map<string, string>();
  for (const { value, held } of points)
    if (held.kind === 'scalar') seen.set(wordsOf(value), nameWords(held.text).join(''));
  seen.delete('');
  const same = [...seen].filter(([word, text]) => word.length > 1 && /\p{L}/u.test(word) && word === text);
  return seen.size === 0 ? 0 : same.length / seen.size;
}
