import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** What loses something lies a slip of the finger from what is pressed often. */
export const destructiveBesideFrequent = chordRule(
  'destructive-beside-frequent',
  'beside',
  (first, second, conflict) => ({
    detail: `${first.action} (${spellChord(first)}) cannot be taken back, and it lies beside ${second?.action ?? ''} (${second === undefined ? '' : spellChord(second)}), which is pressed often: a slip from ${conflict.slips[1]} to ${conflict.slips[0]} is enough.`,
    wayOut: `Give ${first.action} a control that is not beside ${conflict.slips[1]}, such as the opposite one of the four.`,
    note: 'pressed often',
  }),
);
