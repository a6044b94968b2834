import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** The same action on different chords on two instances: hands learn one of them. */
export const chordDiffers = chordRule('chord-differs', 'differs', (first, second) => ({
  detail: `${first.action} is ${spellChord(first)} on ${first.instance ?? ''}, but ${second === undefined ? '' : spellChord(second)} on ${second?.instance ?? ''}.`,
  wayOut: 'Give both the same control; if the difference is wanted, allow it with the reason.',
  note: 'the other chord',
}));
