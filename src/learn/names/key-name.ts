import type { SeenKey } from './seen-key.ts';
import { wordsOf } from './lexicon.ts';
import type { Word } from './lexicon.ts';
import { besides, fillers, negators, prepositions } from './synonyms.ts';
import { unitSaid } from './value-fit.ts';
import type { UnitSaid } from './value-fit.ts';

/** What a key's name and surroundings say, word by word. */
export interface KeyName {
  /** The key's own words, those that say something. */
  readonly own: readonly Word[];
  /** Words of the path above it. */
  readonly above: readonly Word[];
  readonly comment: readonly Word[];
  readonly heading: readonly Word[];
  readonly unit: UnitSaid | undefined;
  /** Its own name says nothing (a number): the comment is its name. */
  readonly byComment: boolean;
}

function telling(words: readonly Word[]): readonly Word[] {
  return words.filter(({ text }) => (!fillers.has(text) || prepositions.has(text)) && !/^\d+$/.test(text));
}

/**
 * The words of a key. Where its own name says nothing (`enabled`, `value`, `17`), the part above it is its name as well,
 * and where no name says anything, the comment is. `weightless`: words that most keys of the file share.
 */
export function keyName(
  { parts, comment, heading }: Pick<SeenKey, 'parts' | 'comment' | 'heading'>,
  weightless: ReadonlySet<string>,
): KeyName {
  const rest = [...parts];
  let own: readonly Word[] = [];
  let all: readonly Word[] = [];
  while (rest.length > 0 && own.length === 0) {
    all = [...wordsOf(rest.pop() ?? ''), ...all];
    own = telling(all).filter(({ text }) => !weightless.has(text) && !negators.has(text) && !prepositions.has(text));
  }
  const spoken = telling(wordsOf(comment));
  // A number among numbers is called by its comment, whatever the group is called.
  if (spoken.length > 0 && /^\d+$/.test(parts.at(-1) ?? '')) own = all = [];
  const byComment = own.length === 0 && spoken.length > 0;
  const named = byComment ? spoken : telling(all).filter(({ text }) => !weightless.has(text));
  // A unit is said at the end; its word is none of the name's then, but for frames, which may be what it is about.
  const last = named.at(-1);
  const unit = last === undefined ? undefined : unitSaid(last.text);
  const unitWord = unit !== undefined && unit.unit !== 'frames' && named.length > 1;
  const without = unitWord ? named.slice(0, -1) : named;
  return {
    own: without,
    above: [
      ...telling((byComment ? parts.slice(0, -1) : rest).flatMap((part) => wordsOf(part))),
      ...(weightless.size === 0 ? [] : wordsOf(parts.join(' ')).filter(({ text }) => weightless.has(text))),
    ],
    comment: byComment ? [] : spoken,
    heading: telling(wordsOf(heading)),
    unit,
    byComment,
  };
}

export const isBeside = ({ text }: Word): boolean => besides.has(text) || besides.has(text.replace(/s$/, ''));
