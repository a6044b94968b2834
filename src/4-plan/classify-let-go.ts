import type { Fate, Said } from './classify-key.ts';

/** All that the fate of a recorded key depends on that no edit names any more. Letters as in `KeyFacts`. */
export interface LetGoFacts {
  readonly fileThere: boolean;
  readonly keyThere: boolean;
  readonly cardIsWritten: boolean;
  readonly cardIsBefore: boolean;
  /** B is only a hash: it cannot come back. */
  readonly beforeLost: boolean;
  /** The setting has another key now. */
  readonly moved: boolean;
  readonly letAlone: boolean;
  readonly said: Said | undefined;
}

/** The fate of a key that is let go: what stood before us comes back, unless somebody changed it since. */
export function classifyLetGo(facts: LetGoFacts): Fate {
  const because = facts.moved ? 'the setting has another key now' : 'the profile no longer sets it';
  const fate = (act: Fate['act'], why: string): Fate => ({
    class: 'let-go',
    act,
    why: `${because}; ${why}`,
    remember: undefined,
  });
  if (facts.letAlone)
    return { class: 'let-alone', act: 'none', why: `${because}, and it was no longer managed`, remember: undefined };
  if (facts.said === 'card' || facts.said === 'let-alone') return fate('keep', 'you said that it stays as it is');
  if (!facts.fileThere) return fate('none', 'the file is no longer on the card');
  if (facts.cardIsBefore) return fate('none', 'the card has what stood there before us');
  if (!facts.cardIsWritten && facts.said !== 'profile')
    return facts.keyThere
      ? fate('keep', 'it is not what was last written, so that it stays')
      : fate('none', 'the key is no longer there');
  return facts.beforeLost
    ? fate('write', 'what stood there before us was a secret, of which no text is kept, so that the key is taken out')
    : fate('write', 'what stood there before us comes back');
}
