import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** A chord that the operating system takes as well: both happen. */
export const reservedChord = chordRule('reserved-chord', 'reserved', (first, second) => ({
  detail: `${spellChord(first)} is ${first.action} on ${first.instance ?? ''}, and the operating system takes the same chord: ${second?.action ?? ''}.`,
  wayOut: `Give ${first.action} another control.`,
  note: 'reserved here',
}));
