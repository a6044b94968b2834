import { recover } from '../5-apply/recover.ts';
import type { Recovered } from '../5-apply/recover.ts';
import type { CardPlace } from '../5-apply/apply-input.ts';
import { undo } from '../5-apply/undo.ts';
import type { Undone } from '../5-apply/undo.ts';
import type { Outcome } from '../diagnostics/finding.ts';

export type { CardPlace, Recovered, Undone };

/** Puts right what a killed write or undo left on a card. */
export function recoverCard(place: CardPlace): Outcome<Recovered> {
  return recover(place);
}

/** Takes the last write back. */
export function undoCard(place: CardPlace): Outcome<Undone> {
  return undo(place);
}
