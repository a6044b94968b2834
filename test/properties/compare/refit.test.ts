import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { RefitProblem } from '../../../src/compare/refit/problem.ts';
import { refit } from '../../../src/compare/refit/refit.ts';
import type { Proposal } from '../../../src/compare/refit/refit.ts';
import { mostNodes } from '../../../src/compare/refit/solve.ts';
import { anyProblem } from '../../support/refit/any-problem.ts';
import { bigProblem, numbersFrom } from '../../support/refit/big-problem.ts';
import { bruteForce } from '../../support/refit/brute-force.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

/** All that a proposal says. */
function told({ holds, placed, cost, counts, proved }: Proposal): string {
  return JSON.stringify([
    holds.map(({ hold, to }) => [hold.id, to]),
    placed.map(({ habit, placing, freeing }) => [habit.id, placing.press, freeing]),
    cost,
    counts,
    proved,
  ]);
}

function shuffledBy(seed: number): <T>(all: Iterable<T>) => T[] {
  const next = numbersFrom(seed);
  return (all) => {
    const left = [...all];
    return [...left].flatMap(() => left.splice(next(left.length), 1));
  };
}

/** The same problem, everything in it in another order. */
function reordered(problem: RefitProblem, seed: number): RefitProblem {
  const shuffled = shuffledBy(seed);
  return {
    ...problem,
    from: { ...problem.from, controls: new Map(shuffled(problem.from.controls)) },
    to: { ...problem.to, controls: new Map(shuffled(problem.to.controls)) },
    holds: shuffled(problem.holds).map((hold) => ({ ...hold, spots: shuffled(hold.spots) })),
    habits: shuffled(problem.habits).map((habit) => ({ ...habit, spots: shuffled(habit.spots) })),
    standing: shuffled(problem.standing),
    reserved: shuffled(problem.reserved),
  };
}

describe('refit', () => {
  it('finds the three cheapest ways of all that there are, and proves them', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(anyProblem(5, 9), (problem) => {
        const { proposals } = refit(problem);
        expect(proposals.every(({ proved }) => proved)).toBe(true);
        expect(proposals.map(({ cost }) => cost)).toEqual(bruteForce(problem, 3));
      }),
      { numRuns: runs },
    );
  });

  it(
    'never proves what is not so, and never bounds too high, when it has to give up early',
    { timeout: 600_000 },
    () => {
      fc.assert(
        fc.property(anyProblem(5, 9), fc.integer({ min: 1, max: 12 }), (problem, most) => {
          const { proposals, bound, nodes } = refit(problem, 3, most);
          const best = bruteForce(problem, 3);
          expect(nodes).toBeLessThanOrEqual(most);
          proposals.forEach(({ cost, proved }, k) => {
            // What is not proved is a way all the same, so that it costs at least what the best does.
            expect(cost).toBeGreaterThanOrEqual(best[k] ?? Infinity);
            if (proved) expect(cost).toBe(best[k]);
          });
          const unproved = proposals.findIndex(({ proved }) => !proved);
          const open = unproved < 0 ? proposals.length : unproved;
          expect(bound).toBeLessThanOrEqual(best[open] ?? Infinity);
        }),
        { numRuns: runs },
      );
    },
  );

  it('says the same, ties included, in whatever order it is told of things', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(anyProblem(6, 12), fc.integer({ min: 1, max: 1_000_000 }), (problem, seed) => {
        expect(refit(reordered(problem, seed)).proposals.map(told)).toEqual(refit(problem).proposals.map(told));
      }),
      { numRuns: runs },
    );
  });

  it('looks at no more parts than it may, and says what any other way costs at least', { timeout: 600_000 }, () => {
    const proved = [1, 2, 3, 4, 5, 6].map((seed) => {
      const { proposals, bound, nodes } = refit(bigProblem(seed, 24, 30, 2));
      expect(nodes).toBeLessThanOrEqual(mostNodes);
      for (const { cost } of proposals) expect(cost).toBeLessThanOrEqual(bound);
      return proposals.every((one) => one.proved);
    });
    expect(proved).toEqual([true, true, true, true, true, true]);
    // With twice the hotkeys and a tenth of the steps it must give up, and says so.
    const { proposals, bound, nodes } = refit(bigProblem(2, 24, 26, 10), 3, 40);
    expect(nodes).toBe(40);
    expect(proposals.length).toBe(3);
    expect(proposals.every(({ proved, cost }) => proved || cost >= bound)).toBe(true);
    expect(proposals.some((one) => !one.proved)).toBe(true);
  });
});
