import fc from 'fast-check';
import { expect, it } from 'vitest';
import { eachBeginning, lastWithBeginning } from '../../../src/syntax/shared/name-beginnings.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const names = fc.array(fc.string({ unit: fc.constantFrom('a', 'b', '_', '-', '.', ' '), maxLength: 30 }), {
  maxLength: 30,
});

function beginnings(name: string): readonly string[] {
  const found: string[] = [];
  eachBeginning(name, (beginning) => found.push(beginning));
  return found;
}

it('takes a name apart at its marks', () => {
  expect(beginnings('video_mode.full-screen')).toEqual(['', 'video_', 'video_mode.', 'video_mode.full-']);
  expect(beginnings('_x')).toEqual(['']);
});

it('finds the last name of each wanted beginning, as looking at every pair of them does', () => {
  fc.assert(
    fc.property(names, names, (all, wanted) => {
      const plain = [...new Set(wanted.flatMap(beginnings))]
        .map((beginning) => ({ beginning, last: all.findLastIndex((name) => beginnings(name).includes(beginning)) }))
        .filter(({ last }) => last >= 0);
      const ours = new Map(lastWithBeginning(all, wanted).map(({ beginning, last }) => [beginning, last]));
      // The empty beginning is told whether or not a name is wanted.
      if (plain.length === 0) ours.delete('');
      expect(ours).toEqual(new Map(plain.map(({ beginning, last }) => [beginning, last])));
    }),
    { numRuns },
  );
});
