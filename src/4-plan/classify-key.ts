import type { KeyClass, PlannedKey } from '../model/plan.ts';
import type { Evidence } from './evidence.ts';

/** What the person says of one key: the profile's value, the card's, or to stop managing it. */
export type Said = 'profile' | 'card' | 'let-alone';

/** All that the fate of a key depends on. C: the card now; N: the profile now; W: last written; B: before us. */
export interface KeyFacts {
  /** Where W is recorded: at this key, at another key or file that the setting had, or nowhere. */
  readonly recorded: 'here' | 'elsewhere' | 'no';
  readonly fileThere: boolean;
  readonly keyThere: boolean;
  /** C and N are the same. */
  readonly cardIsProfile: boolean;
  /** C and W are the same. */
  readonly cardIsWritten: boolean;
  /** C is as in the stock file; where no stock is known, C is B. */
  readonly cardIsStock: boolean;
  /** N and W are the same. */
  readonly profileIsWritten: boolean;
  /** False: a secret is not at hand, so that N can be compared with nothing. */
  readonly profileKnown: boolean;
  readonly volatile: boolean;
  /** N holds a secret. */
  readonly secret: boolean;
  readonly evidence: Evidence | undefined;
  /** The answer in the record, if it still stands. */
  readonly remembered: 'keep-card' | 'let-alone' | undefined;
  /** Said now, of this key. */
  readonly said: Said | undefined;
  /** Said now, of all hand changes. */
  readonly takeProfile: boolean;
}

/** What becomes of a key. `remember`: the answer that the record is to hold. */
export interface Fate {
  readonly class: KeyClass;
  readonly act: PlannedKey['act'];
  readonly why: string;
  readonly remember: 'keep-card' | 'let-alone' | undefined;
}

const evidenceWords: Readonly<Record<Evidence, string>> = {
  version: 'the frontend has another version than when it was written, and the key is back at its stock value',
  stock: 'the stock file is another than when it was written, and the key is back at its stock value',
  'all-back': 'every key of the file that differed from stock is back at its stock value',
};

/** The fate of one key that an edit names. The order of the questions is the definition. */
export function classifyKey(facts: KeyFacts): Fate {
  const fate = (kind: KeyClass, act: Fate['act'], why: string, remember?: Fate['remember']): Fate => ({
    class: kind,
    act,
    why,
    remember,
  });
  const { said } = facts;
  if (said === 'let-alone') return fate('let-alone', 'none', 'you said to stop managing it', 'let-alone');
  if (facts.remembered === 'let-alone' && said === undefined)
    return fate('let-alone', 'none', 'you said earlier to stop managing it', 'let-alone');
  if (facts.cardIsProfile) return fate('same', 'none', 'the card has it already');
  if (said === 'card') return fate('answered', 'keep', "you said that the card's value is to stay", 'keep-card');
  if (!facts.profileKnown && facts.recorded !== 'no' && facts.cardIsWritten && said === undefined)
    return fate('same', 'none', 'the card is as we left it; the secret is not at hand to be compared');
  if (facts.recorded === 'no') return fate('first-time', 'write', 'it was not written before');
  if (facts.recorded === 'elsewhere') {
    if (!facts.keyThere) return fate('moved', 'write', 'the setting has another key now, which the card does not have');
    if (facts.cardIsWritten)
      return fate('moved', 'write', 'the setting has another key now, which holds what was written to the old one');
    if (facts.cardIsStock)
      return fate('moved', 'write', 'the setting has another key now, which holds what stood there before us');
  } else {
    if (facts.cardIsWritten) return fate('profile-changed', 'write', 'the card is as we left it');
    if (!facts.fileThere) return fate('file-gone', 'write', 'the file is no longer on the card');
  }
  const take = said === 'profile' ? "; you said to take the profile's value" : undefined;
  if (facts.volatile)
    return take !== undefined || !facts.profileIsWritten
      ? fate('volatile', 'write', `it changes in play${take ?? ', and the profile says something else than before'}`)
      : fate('volatile', 'keep', 'it changes in play');
  const reset = facts.recorded === 'here' && facts.cardIsStock ? facts.evidence : undefined;
  // A frontend that empties a password does so without an update; what an update emptied has to be given again.
  if (facts.secret && facts.profileIsWritten && reset === undefined)
    return take !== undefined
      ? fate('consumed', 'write', `the frontend put something of its own in its place${take}`)
      : fate('consumed', 'keep', 'the frontend put something of its own in its place');
  // What the person said of exactly this value holds, whatever the flag for all others says.
  if (facts.remembered === 'keep-card' && take === undefined)
    return fate('answered', 'keep', "you said earlier that the card's value is to stay", 'keep-card');
  if (reset !== undefined) return fate('reset', 'write', evidenceWords[reset]);
  const all = take ?? (facts.takeProfile ? "; the profile's value is taken, as you said for all" : undefined);
  const act = all === undefined ? 'keep' : 'write';
  if (!facts.profileIsWritten)
    return fate('both-changed', act, `it changed on the card and in the profile${all ?? ''}`);
  if (!facts.keyThere)
    return fate('key-gone', act, `the key was taken out, and no update is seen that did it${all ?? ''}`);
  return fate('changed-by-hand', act, `it is not what was last written, and no update is seen that did it${all ?? ''}`);
}
