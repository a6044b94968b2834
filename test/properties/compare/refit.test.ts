import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refit } from '../../../src/compare/refit/refit.ts';
import { anyProblem } from '../../support/refit/any-problem.ts';
import { bruteForce } from '../../support/refit/brute-force.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

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
});
