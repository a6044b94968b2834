import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { Play } from '../support/scenario/play.ts';
import { scenarios } from '../support/scenario/scenario.ts';
import type { Scenario } from '../support/scenario/scenario.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 200);
// On a machine that does much else.
const timeout = 60_000 + runs * 2000;
const fates = new Map<string, number>();

/** Every fate of a key that the definition knows, so that no run is green for want of cases. */
const all = [
  'same',
  'same, spelled otherwise',
  'first-time',
  'profile-changed',
  'reset',
  'changed-by-hand',
  'both-changed',
  'key-gone',
  'file-gone',
  'moved, and not there',
  'moved, and carried over',
  'moved, as it ships',
  'let go',
  'let go, and not ours any more',
];

/** Keys taken out by hand, and kept so: they are no reset when the file's only other key of ours is let go. */
const keptThenLetGo: Scenario = (() => {
  const file = { one: 'other', two: 'main', redone: 'main' } as const;
  const plain = {
    movesAtTwo: false,
    redoneMoves: false,
    anewAtTwo: false,
    redoneAnew: 'no',
    found: undefined,
  } as const;
  const none = { one: undefined, two: undefined };
  return {
    formats: { main: 0, other: 0, cores: 0 },
    instances: 1,
    settings: [
      { ...plain, pool: 1, file, stock: none, wanted: 0, then: 'keep' },
      { ...plain, pool: 4, file, stock: { one: 0, two: undefined }, wanted: 1, then: 'drop' },
      { ...plain, pool: 7, file, stock: none, wanted: 0, then: 'keep' },
    ],
    events: [
      { kind: 'reset-file', instance: 0, file: 'other' },
      { kind: 'take-out', instance: 0, at: 1 },
    ],
    movesBy: 'versions',
    renames: { files: [], folder: false, core: false },
    redoneFiles: [],
  };
})();

describe('updates, hands and profiles in any order', () => {
  it('end as an oracle says that knows what happened, and nothing of the merge', { timeout }, () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        const play = new Play(scenario);
        const wrong = play.run();
        for (const [fate, times] of play.fates) fates.set(fate, (fates.get(fate) ?? 0) + times);
        expect(wrong).toEqual([]);
      }),
      { numRuns: runs, examples: [[keptThenLetGo]] },
    );
    // Few runs may by chance lack one.
    if (runs >= 1000) expect([...fates.keys()].sort()).toEqual([...all].sort());
    else expect(fates.size).toBeGreaterThan(all.length / 2);
  });

  afterAll(() => {
    if (runs >= 1000)
      console.log(`${runs} scenarios: ${[...fates].map(([fate, times]) => `${times} ${fate}`).join('; ')}`);
  });
});
