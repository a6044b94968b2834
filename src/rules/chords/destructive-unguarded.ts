import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** What loses something needs no hold control: one touch does it. */
export const destructiveUnguarded = chordRule('destructive-unguarded', 'unguarded', (first) => ({
  detail: `${first.action} cannot be taken back, and ${spellChord(first)} alone does it, without the hold control.`,
  wayOut: `Write ${first.action}: ${first.positions[0] ?? ''}, which is pressed together with hold.`,
}));
