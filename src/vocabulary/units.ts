import { nearestNames } from '../diagnostics/nearest.ts';
import type { Measure } from './types.ts';

/** An amount in the measure's base unit; or what is wrong with the text (no full stop) and a way out (a sentence). */
export type Quantity =
  | { readonly kind: 'amount'; readonly amount: number }
  | { readonly kind: 'bad'; readonly why: string; readonly wayOut: string };

interface MeasureUnits {
  readonly called: string;
  /** Unit to base units, smallest first. Decimal and binary prefixes as in IEC 80000-13 and the SI brochure. */
  readonly units: Readonly<Record<string, number>>;
  /** What people write instead, in lower case, and what they mean: several where it cannot be known. */
  readonly meant: Readonly<Record<string, readonly string[]>>;
  readonly example: string;
  /** Whether an amount may be below zero. */
  readonly signed?: true;
}

const measures: Readonly<Record<Measure, MeasureUnits>> = {
  time: {
    called: 'a time',
    units: { ms: 1, s: 1000, min: 60_000, h: 3_600_000 },
    meant: {
      msec: ['ms'],
      msecs: ['ms'],
      millis: ['ms'],
      millisecond: ['ms'],
      milliseconds: ['ms'],
      sec: ['s'],
      secs: ['s'],
      second: ['s'],
      seconds: ['s'],
      m: ['min'],
      mins: ['min'],
      minute: ['min'],
      minutes: ['min'],
      hr: ['h'],
      hrs: ['h'],
      hour: ['h'],
      hours: ['h'],
    },
    example: '10 s',
  },
  size: {
    called: 'a size',
    units: {
      B: 1,
      kB: 1000,
      KiB: 1024,
      MB: 1_000_000,
      MiB: 1_048_576,
      GB: 1_000_000_000,
      GiB: 1_073_741_824,
      TB: 1_000_000_000_000,
      TiB: 1_099_511_627_776,
    },
    meant: {
      byte: ['B'],
      bytes: ['B'],
      k: ['kB', 'KiB'],
      kb: ['kB', 'KiB'],
      m: ['MB', 'MiB'],
      mb: ['MB', 'MiB'],
      g: ['GB', 'GiB'],
      gb: ['GB', 'GiB'],
      t: ['TB', 'TiB'],
      tb: ['TB', 'TiB'],
    },
    example: '128 GB',
  },
  multiplier: {
    called: 'a speed',
    units: { x: 1 },
    meant: { '×': ['x'], times: ['x'], fold: ['x'] },
    example: '3 x',
  },
  percent: {
    called: 'a share',
    units: { '%': 1 },
    meant: { percent: ['%'], pct: ['%'], 'per cent': ['%'], '％': ['%'] },
    example: '50 %',
  },
  rate: {
    called: 'a rate',
    units: { '/ day': 1 },
    meant: {
      'per day': ['/ day'],
      'a day': ['/ day'],
      '/d': ['/ day'],
      '/ d': ['/ day'],
      daily: ['/ day'],
      '/ days': ['/ day'],
    },
    example: '500 / day',
  },
  gain: {
    called: 'a gain',
    units: { dB: 1 },
    meant: { decibel: ['dB'], decibels: ['dB'] },
    example: '-6 dB',
    signed: true,
  },
};

/** The closed list of a measure's units, smallest first. */
export function unitsOf(measure: Measure): readonly string[] {
  return Object.keys(measures[measure].units);
}

/** Blanks between number and unit, and around the slash of a rate, count for nothing. */
function foldBlanks(unit: string): string {
  return unit
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ?\/ ?/g, '/ ')
    .trim();
}

/** What a wrong unit may have meant, best first. */
function meantUnits(unit: string, { units, meant }: MeasureUnits): readonly string[] {
  const lower = unit.toLowerCase();
  if (Object.hasOwn(meant, lower)) return meant[lower] ?? [];
  const folded = Object.keys(units).filter((known) => known.toLowerCase() === lower);
  if (folded.length > 0) return folded;
  // Two letters are near to everything.
  return unit.length < 3 ? [] : nearestNames(unit, Object.keys(units)).slice(0, 1);
}

function oneOf(names: readonly string[]): string {
  return names.length > 1 ? `one of ${names.join(', ')}` : (names[0] ?? '');
}

/** Decimal digits times a whole factor, rounded once: 1.005 s is 1005 ms, not 1004.9999999999999. */
function exact(digits: string, factor: number): number {
  const [whole = '', fraction = ''] = digits.split('.');
  const product = String(BigInt(whole + fraction) * BigInt(factor)).padStart(fraction.length + 1, '0');
  const point = product.length - fraction.length;
  return Number(`${product.slice(0, point)}.${product.slice(point)}`);
}

/**
 * `10 s` or `10s` in the measure's base unit. Numbers are decimal, with a point; units are case-sensitive, since MB and
 * mb, or min and m, are different things to different people.
 */
export function parseQuantity(text: string, measure: Measure): Quantity {
  const about = measures[measure];
  const bad = (why: string, wayOut: string): Quantity => ({ kind: 'bad', why, wayOut });
  const match = /^\s*([+-]?)([0-9]{1,15}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})\s*(\S.{0,40})?\s*$/u.exec(text);
  if (/^\s*[+-]?[0-9]{1,15},[0-9]{1,9}(?![0-9,.])/.test(text)) {
    return bad('a decimal comma cannot be read', `Write ${text.trim().replace(',', '.')}.`);
  }
  if (match === null) {
    return bad(`${JSON.stringify(text)} is not ${about.called}`, `Write a number and a unit, as in ${about.example}.`);
  }
  const [, sign = '', digits = '', written] = match;
  if (written === undefined) {
    const listed = unitsOf(measure);
    const first = about.example.slice(about.example.indexOf(' ') + 1);
    return bad(
      `${text.trim()} has no unit`,
      `Write ${text.trim()} ${first}${listed.length > 1 ? `, or another of ${listed.join(', ')}` : ''}.`,
    );
  }
  if (sign === '-' && about.signed !== true)
    return bad(`${text.trim()} is below zero`, `Write an amount of 0 or more, as in ${about.example}.`);
  const unit = foldBlanks(written);
  if (Object.hasOwn(about.units, unit)) {
    const amount = exact(digits, about.units[unit] ?? 1);
    return { kind: 'amount', amount: sign === '-' && amount !== 0 ? -amount : amount };
  }
  if (/^[0-9.,]/.test(unit)) {
    return bad(`${JSON.stringify(text)} is not ${about.called}`, `Write a number and a unit, as in ${about.example}.`);
  }
  const meant = meantUnits(unit, about);
  return bad(
    `${JSON.stringify(written.trim())} is not a unit of ${about.called}`,
    meant.length > 0
      ? `Write ${meant.map((name) => `${sign}${digits} ${name}`).join(' or ')}.`
      : `Write ${sign}${digits} with ${oneOf(unitsOf(measure))}.`,
  );
}

/** The shortest text that `parseQuantity` reads back as this amount: `90 s`, `10 min`, `128 GB`, `32 KiB`. */
export function printQuantity(amount: number, measure: Measure): string {
  const [smallest = ''] = unitsOf(measure);
  let best = { number: plain(amount), unit: smallest };
  for (const [unit, factor] of Object.entries(measures[measure].units)) {
    const number = plain(amount / factor);
    const back = parseQuantity(`${number} ${unit}`, measure);
    // On a tie the larger unit is the one that people would say.
    const shorter = amount !== 0 && number.length <= best.number.length;
    if (shorter && back.kind === 'amount' && back.amount === amount) best = { number, unit };
  }
  return `${best.number} ${best.unit}`;
}

/** The shortest decimal text that is this number, without an exponent where it can be. */
function plain(number: number): string {
  const text = String(number);
  return text.includes('e') ? number.toFixed(9).replace(/\.?0+$/, '') : text;
}
