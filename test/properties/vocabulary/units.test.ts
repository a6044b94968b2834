import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Measure } from '../../../src/vocabulary/types.ts';
import { parseQuantity, printQuantity, unitsOf } from '../../../src/vocabulary/units.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const measures: readonly Measure[] = ['time', 'size', 'multiplier', 'percent', 'rate', 'gain'];
const measure = fc.constantFrom(...measures);

test('what is printed is read back as the same amount', () => {
  fc.assert(
    fc.property(measure, fc.nat({ max: 2 ** 40 }), fc.integer({ min: 0, max: 3 }), (of, digits, decimals) => {
      const amount = digits / 10 ** decimals;
      expect(parseQuantity(printQuantity(amount, of), of)).toEqual({ kind: 'amount', amount });
    }),
    { numRuns },
  );
});

test('blanks between number and unit say nothing', () => {
  fc.assert(
    fc.property(
      measure.chain((of) => fc.tuple(fc.constant(of), fc.constantFrom(...unitsOf(of)))),
      fc.nat({ max: 10_000 }),
      fc.constantFrom('', ' ', '  ', '\t'),
      ([of, unit], number, blank) => {
        expect(parseQuantity(`${number}${blank}${unit}`, of)).toEqual(parseQuantity(`${number} ${unit}`, of));
      },
    ),
    { numRuns },
  );
});

test('a refusal that offers an amount offers one that is read', () => {
  fc.assert(
    fc.property(measure, fc.nat({ max: 1000 }), fc.string({ maxLength: 8 }), (of, number, unit) => {
      const read = parseQuantity(`${number} ${unit}`, of);
      if (read.kind === 'amount') return;
      const offered = /^Write ([^,]+?)(?: or .*|, or another of .*)?\.$/.exec(read.wayOut)?.[1];
      if (offered === undefined || /^(a number|an amount)|with /.test(offered)) return;
      expect(parseQuantity(offered, of).kind).toBe('amount');
    }),
    { numRuns },
  );
});

test('no text makes it throw or take long', () => {
  fc.assert(
    fc.property(measure, fc.string({ unit: 'binary', maxLength: 60 }), (of, text) => {
      expect(['amount', 'bad']).toContain(parseQuantity(text, of).kind);
    }),
    { numRuns },
  );
});
