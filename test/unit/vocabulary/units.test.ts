import { expect, test } from 'vitest';
import type { Measure } from '../../../src/vocabulary/types.ts';
import { parseQuantity, printQuantity, unitsOf } from '../../../src/vocabulary/units.ts';

// SI Brochure, 9th edition, table 7 (decimal prefixes) and table 8 (min and h, units accepted for use with the SI);
// IEC 80000-13:2008, 4.1 (binary prefixes). Written out, not computed by the code under test.
const factors: readonly (readonly [Measure, string, number])[] = [
  ['time', 'ms', 1],
  ['time', 's', 1000],
  ['time', 'min', 60 * 1000],
  ['time', 'h', 60 * 60 * 1000],
  ['size', 'B', 1],
  ['size', 'kB', 10 ** 3],
  ['size', 'MB', 10 ** 6],
  ['size', 'GB', 10 ** 9],
  ['size', 'TB', 10 ** 12],
  ['size', 'KiB', 2 ** 10],
  ['size', 'MiB', 2 ** 20],
  ['size', 'GiB', 2 ** 30],
  ['size', 'TiB', 2 ** 40],
  ['multiplier', 'x', 1],
  ['percent', '%', 1],
  ['rate', '/ day', 1],
  ['gain', 'dB', 1],
];

test.each(factors)('%s: 1 %s is %d of the base unit', (measure, unit, factor) => {
  expect(parseQuantity(`1 ${unit}`, measure)).toEqual({ kind: 'amount', amount: factor });
  expect(parseQuantity(`1${unit}`, measure)).toEqual({ kind: 'amount', amount: factor });
  expect(parseQuantity(`2.5 ${unit}`, measure)).toEqual({ kind: 'amount', amount: 2.5 * factor });
});

test('the table above holds every unit', () => {
  const measures: readonly Measure[] = ['time', 'size', 'multiplier', 'percent', 'rate', 'gain'];
  for (const measure of measures) {
    expect([...unitsOf(measure)].sort()).toEqual(
      factors
        .filter(([of]) => of === measure)
        .map(([, unit]) => unit)
        .sort(),
    );
  }
});

test.each([
  ['500 / day', 'rate', 500],
  ['500/day', 'rate', 500],
  ['500/ day', 'rate', 500],
  ['-6 dB', 'gain', -6],
  ['+3 dB', 'gain', 3],
  ['1.005 s', 'time', 1005],
  ['0.1 s', 'time', 100],
  ['.5 x', 'multiplier', 0.5],
  ['0 s', 'time', 0],
  ['-0 dB', 'gain', 0],
] as const)('%s is read', (text, measure, amount) => {
  expect(parseQuantity(text, measure)).toEqual({ kind: 'amount', amount });
});

test.each([
  ['10', 'time', '10 has no unit', 'Write 10 s, or another of ms, s, min, h.'],
  ['3', 'multiplier', '3 has no unit', 'Write 3 x.'],
  ['10 sec', 'time', '"sec" is not a unit of a time', 'Write 10 s.'],
  ['10 S', 'time', '"S" is not a unit of a time', 'Write 10 s.'],
  ['5 m', 'time', '"m" is not a unit of a time', 'Write 5 min.'],
  ['2 hours', 'time', '"hours" is not a unit of a time', 'Write 2 h.'],
  ['64 KB', 'size', '"KB" is not a unit of a size', 'Write 64 kB or 64 KiB.'],
  ['64 mib', 'size', '"mib" is not a unit of a size', 'Write 64 MiB.'],
  ['64 Mb', 'size', '"Mb" is not a unit of a size', 'Write 64 MB or 64 MiB.'],
  ['50 percent', 'percent', '"percent" is not a unit of a share', 'Write 50 %.'],
  ['500 per day', 'rate', '"per day" is not a unit of a rate', 'Write 500 / day.'],
  ['3 ×', 'multiplier', '"×" is not a unit of a speed', 'Write 3 x.'],
  ['1,5 s', 'time', 'a decimal comma cannot be read', 'Write 1.5 s.'],
  ['-5 s', 'time', '-5 s is below zero', 'Write an amount of 0 or more, as in 10 s.'],
  ['soon', 'time', '"soon" is not a time', 'Write a number and a unit, as in 10 s.'],
  ['', 'size', '"" is not a size', 'Write a number and a unit, as in 128 GB.'],
  ['1e3 s', 'time', '"e3 s" is not a unit of a time', 'Write 1 with one of ms, s, min, h.'],
  ['10 s 5', 'time', '"s 5" is not a unit of a time', 'Write 10 s.'],
  ['10 GB', 'time', '"GB" is not a unit of a time', 'Write 10 with one of ms, s, min, h.'],
  ['5 constructor', 'time', '"constructor" is not a unit of a time', 'Write 5 with one of ms, s, min, h.'],
] as const)('%j as a %s is refused with a way out', (text, measure, why, wayOut) => {
  expect(parseQuantity(text, measure)).toEqual({ kind: 'bad', why, wayOut });
});

test.each([
  [600_000, 'time', '10 min'],
  [90_000, 'time', '90 s'],
  [1500, 'time', '1.5 s'],
  [1234, 'time', '1234 ms'],
  [3_600_000, 'time', '1 h'],
  [128_000_000_000, 'size', '128 GB'],
  [32_768, 'size', '32 KiB'],
  [67_108_864, 'size', '64 MiB'],
  [0.5, 'multiplier', '0.5 x'],
  [500, 'rate', '500 / day'],
  [-6, 'gain', '-6 dB'],
  [0, 'time', '0 ms'],
] as const)('%d of %s is printed as %s', (amount, measure, text) => {
  expect(printQuantity(amount, measure)).toBe(text);
});
