import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { Play } from '../support/scenario/play.ts';
import { scenarios } from '../support/scenario/scenario.ts';

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

describe('updates, hands and profiles in any order', () => {
  it('end as an oracle says that knows what happened, and nothing of the merge', { timeout }, () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        const play = new Play(scenario);
        const wrong = play.run();
        for (const [fate, times] of play.fates) fates.set(fate, (fates.get(fate) ?? 0) + times);
        expect(wrong).toEqual([]);
      }),
      { numRuns: runs },
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
