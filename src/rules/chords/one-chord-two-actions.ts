import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** One chord, two actions of one instance: the frontend takes one of them, and nobody knows which. */
export const oneChordTwoActions = chordRule('one-chord-two-actions', 'two-actions', (first, second) => ({
  detail: `On ${first.instance ?? ''}, ${spellChord(first)} is both ${first.action} and ${second?.action ?? ''}.`,
  wayOut: `Give ${second?.action ?? 'one of them'} another control, or write ${second?.action ?? 'it'}: none.`,
  note: 'the other action on this chord',
}));
