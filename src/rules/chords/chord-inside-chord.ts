import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** A chord inside another where the shorter one fires first. */
export const chordInsideChord = chordRule('chord-inside-chord', 'inside', (first, second) => ({
  detail: `On the way to ${second === undefined ? '' : spellChord(second)} (${second?.action ?? ''}${first.instance !== undefined || second?.instance === undefined ? '' : ` on ${second.instance}`}) one presses ${spellChord(first)}, and that already does ${first.action}${first.instance === undefined ? '' : ` on ${first.instance}`}.`,
  wayOut:
    first.instance === undefined
      ? `Give ${second?.action ?? 'the longer one'} another control.`
      : `Give one of the two another control, so that neither chord is a part of the other.`,
  note: 'the longer chord',
}));
