import { describe, expect, it } from 'vitest';
import { classifyKey } from '../../../src/4-plan/classify-key.ts';
import type { KeyFacts } from '../../../src/4-plan/classify-key.ts';
import { classifyLetGo } from '../../../src/4-plan/classify-let-go.ts';
import type { LetGoFacts } from '../../../src/4-plan/classify-let-go.ts';

/** A recorded key that somebody changed on the card. */
const handChange: KeyFacts = {
  recorded: 'here',
  fileThere: true,
  keyThere: true,
  cardIsProfile: false,
  cardIsWritten: false,
  cardIsStock: false,
  profileIsWritten: true,
  profileKnown: true,
  volatile: false,
  secret: false,
  evidence: undefined,
  remembered: undefined,
  said: undefined,
  takeProfile: false,
};

const rows: readonly (readonly [string, Partial<KeyFacts>, string])[] = [
  ['a hand change', {}, 'changed-by-hand keep'],
  ['and in the profile', { profileIsWritten: false }, 'both-changed keep'],
  ['the key taken out', { keyThere: false }, 'key-gone keep'],
  ['the key taken out, and the profile changed', { keyThere: false, profileIsWritten: false }, 'both-changed keep'],
  ['the card says what the profile says', { cardIsProfile: true }, 'same none'],
  ['both changed to one thing', { cardIsProfile: true, profileIsWritten: false }, 'same none'],
  ['as we left it', { cardIsWritten: true, profileIsWritten: false }, 'profile-changed write'],
  ['never written', { recorded: 'no' }, 'first-time write'],
  ['never written, and there', { recorded: 'no', cardIsProfile: true }, 'same none'],
  ['no file', { fileThere: false, keyThere: false }, 'file-gone write'],
  ['no file, and volatile', { fileThere: false, keyThere: false, volatile: true }, 'file-gone write'],
  ['volatile', { volatile: true }, 'volatile keep'],
  [
    'volatile, back at stock after an update',
    { volatile: true, evidence: 'version', cardIsStock: true },
    'volatile keep',
  ],
  ['volatile, and the profile changed', { volatile: true, profileIsWritten: false }, 'volatile write'],
  ['volatile, and the profile is taken for all', { volatile: true, takeProfile: true }, 'volatile keep'],
  ['volatile, and the profile is taken for it', { volatile: true, said: 'profile' }, 'volatile write'],
  ['a secret swapped', { secret: true }, 'consumed keep'],
  ['a secret swapped for nothing', { secret: true, keyThere: false }, 'consumed keep'],
  ['a secret, and a new one in the profile', { secret: true, profileIsWritten: false }, 'both-changed keep'],
  ['a secret swapped, and the profile is taken for it', { secret: true, said: 'profile' }, 'consumed write'],
  [
    'a secret that is not at hand, as we left it',
    { secret: true, profileKnown: false, cardIsWritten: true },
    'same none',
  ],
  [
    'a secret that is not at hand, for the first time',
    { recorded: 'no', secret: true, profileKnown: false },
    'first-time write',
  ],
  ['stock, and no evidence', { cardIsStock: true }, 'changed-by-hand keep'],
  ['stock, and another version', { cardIsStock: true, evidence: 'version' }, 'reset write'],
  ['stock, and another stock text', { cardIsStock: true, evidence: 'stock' }, 'reset write'],
  ['stock, with all of the file', { cardIsStock: true, evidence: 'all-back' }, 'reset write'],
  ['stock is no key', { cardIsStock: true, evidence: 'version', keyThere: false }, 'reset write'],
  ['not stock, and another version', { evidence: 'version' }, 'changed-by-hand keep'],
  [
    'reset, and the profile changed',
    { cardIsStock: true, evidence: 'version', profileIsWritten: false },
    'reset write',
  ],
  ['the profile taken for all', { takeProfile: true }, 'changed-by-hand write'],
  ['the profile taken for it', { said: 'profile' }, 'changed-by-hand write'],
  ['both changed, the profile taken', { profileIsWritten: false, takeProfile: true }, 'both-changed write'],
  ['the key taken out, the profile taken', { keyThere: false, takeProfile: true }, 'key-gone write'],
  ["the card's taken", { said: 'card' }, 'answered keep keep-card'],
  ["the card's taken, and it agrees by now", { said: 'card', cardIsProfile: true }, 'same none'],
  ["the card's taken earlier", { remembered: 'keep-card' }, 'answered keep keep-card'],
  [
    "the card's taken earlier, the profile for all now",
    { remembered: 'keep-card', takeProfile: true },
    'answered keep keep-card',
  ],
  ["the card's taken earlier, the profile now", { remembered: 'keep-card', said: 'profile' }, 'changed-by-hand write'],
  [
    "the card's taken earlier, it is stock, and an update",
    { remembered: 'keep-card', cardIsStock: true, evidence: 'version' },
    'answered keep keep-card',
  ],
  ['let alone', { said: 'let-alone' }, 'let-alone none let-alone'],
  ['let alone earlier', { remembered: 'let-alone' }, 'let-alone none let-alone'],
  [
    'let alone earlier, and no file',
    { remembered: 'let-alone', fileThere: false, keyThere: false },
    'let-alone none let-alone',
  ],
  [
    'let alone earlier, the profile for all now',
    { remembered: 'let-alone', takeProfile: true },
    'let-alone none let-alone',
  ],
  ['let alone earlier, the profile now', { remembered: 'let-alone', said: 'profile' }, 'changed-by-hand write'],
  ['moved, and the new key is not there', { recorded: 'elsewhere', keyThere: false }, 'moved write'],
  ['moved, and the new key is stock', { recorded: 'elsewhere', cardIsStock: true }, 'moved write'],
  ['moved, and the update carried it over', { recorded: 'elsewhere', cardIsWritten: true }, 'moved write'],
  ['moved, and the new key says it', { recorded: 'elsewhere', cardIsProfile: true }, 'same none'],
  ['moved, and the new key says something else', { recorded: 'elsewhere' }, 'changed-by-hand keep'],
  ['moved, in doubt, and an update', { recorded: 'elsewhere', evidence: 'version' }, 'changed-by-hand keep'],
  ['moved, in doubt, and the profile taken', { recorded: 'elsewhere', takeProfile: true }, 'changed-by-hand write'],
  ['moved, in doubt, and the profile changed', { recorded: 'elsewhere', profileIsWritten: false }, 'both-changed keep'],
  ['moved, and let alone', { recorded: 'elsewhere', remembered: 'let-alone' }, 'let-alone none let-alone'],
];

describe('the fate of a key', () => {
  it.each(rows)('%s', (_, facts, wanted) => {
    const fate = classifyKey({ ...handChange, ...facts });
    expect([fate.class, fate.act, ...(fate.remember === undefined ? [] : [fate.remember])].join(' ')).toBe(wanted);
    expect(fate.why).toMatch(/^[a-z]/);
  });

  /** Every combination of facts that can be. */
  function* all(): Generator<KeyFacts> {
    const flags = [false, true];
    for (const recorded of ['here', 'elsewhere', 'no'] as const)
      for (const fileThere of flags)
        for (const keyThere of fileThere ? flags : [false])
          for (const cardIsProfile of flags)
            for (const cardIsWritten of recorded === 'no' ? [false] : flags)
              for (const profileIsWritten of recorded === 'no' ? [false] : flags) {
                // Sameness is transitive.
                if (cardIsProfile && cardIsWritten && !profileIsWritten) continue;
                if (!cardIsProfile && cardIsWritten && profileIsWritten) continue;
                if (cardIsProfile && !cardIsWritten && profileIsWritten) continue;
                for (const cardIsStock of flags)
                  for (const evidence of [undefined, 'version'] as const)
                    for (const volatile of flags)
                      for (const secret of volatile ? [false] : flags)
                        for (const remembered of [undefined, 'keep-card', 'let-alone'] as const)
                          for (const said of [undefined, 'profile', 'card', 'let-alone'] as const)
                            for (const takeProfile of flags)
                              yield {
                                recorded,
                                fileThere,
                                keyThere,
                                cardIsProfile,
                                cardIsWritten,
                                cardIsStock,
                                profileIsWritten,
                                profileKnown: true,
                                volatile,
                                secret,
                                evidence,
                                remembered,
                                said,
                                takeProfile,
                              };
              }
  }

  it('never writes over a hand change unasked, and never what already stands there', () => {
    let seen = 0;
    for (const facts of all()) {
      seen += 1;
      const { act, class: kind } = classifyKey(facts);
      const told = JSON.stringify(facts);
      if (facts.cardIsProfile) expect(act, told).not.toBe('write');
      if (act !== 'write' || facts.recorded === 'no') continue;
      // What may be written over: what is as we left it, gone with its file, reset by an update, or given up by the person.
      const asked = facts.said === 'profile' || facts.takeProfile;
      const ours = facts.cardIsWritten;
      const reset = facts.cardIsStock && (facts.evidence !== undefined || facts.recorded === 'elsewhere');
      const inPlay = facts.volatile && !facts.profileIsWritten;
      const gone = facts.recorded === 'elsewhere' ? !facts.keyThere : !facts.fileThere;
      expect(asked || ours || reset || inPlay || gone, `${kind} ${told}`).toBe(true);
    }
    expect(seen).toBeGreaterThan(10_000);
  });

  it('that the person gives up is never touched', () => {
    for (const facts of all())
      if (facts.said === 'let-alone' || (facts.said === undefined && facts.remembered === 'let-alone'))
        expect(classifyKey(facts).act).toBe('none');
  });
});

const asWritten: LetGoFacts = {
  fileThere: true,
  keyThere: true,
  cardIsWritten: true,
  cardIsBefore: false,
  beforeLost: false,
  moved: false,
  letAlone: false,
  said: undefined,
};

const letGoRows: readonly (readonly [string, Partial<LetGoFacts>, string])[] = [
  ['as we left it', {}, 'let-go write'],
  ['as we left it, and the setting has another key', { moved: true }, 'let-go write'],
  ['changed by hand', { cardIsWritten: false }, 'let-go keep'],
  ['changed by hand, and the profile taken for it', { cardIsWritten: false, said: 'profile' }, 'let-go write'],
  ['taken out', { cardIsWritten: false, keyThere: false }, 'let-go none'],
  ['back at what stood before', { cardIsWritten: false, cardIsBefore: true }, 'let-go none'],
  ['as it was before us all along', { cardIsBefore: true }, 'let-go none'],
  ['no file', { fileThere: false, keyThere: false, cardIsWritten: false }, 'let-go none'],
  ['a secret stood there', { beforeLost: true }, 'let-go write'],
  ['let alone', { letAlone: true }, 'let-alone none'],
  ["the card's is to stay", { said: 'card' }, 'let-go keep'],
  ['it is to be let alone', { said: 'let-alone' }, 'let-go keep'],
];

describe('the fate of a key that is let go', () => {
  it.each(letGoRows)('%s', (_, facts, wanted) => {
    const fate = classifyLetGo({ ...asWritten, ...facts });
    expect(`${fate.class} ${fate.act}`).toBe(wanted);
  });
});
