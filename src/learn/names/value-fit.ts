import type { SettingDefinition } from '../../vocabulary/types.ts';
import { stem, wordsOf } from './lexicon.ts';
import { plainWord } from './name-words.ts';
import type { ValueKind } from './value-kind.ts';

/** A unit as a name says it. */
export interface UnitSaid {
  readonly measure: string;
  readonly unit: string;
  /** Programs mean the one or the other by the same letters. */
  readonly or?: string;
}

/** Units that a name may say, by the measure they are of. */
const unitRows: Readonly<Record<string, UnitSaid>> = {
  ms: { measure: 'time', unit: 'ms' },
  msec: { measure: 'time', unit: 'ms' },
  milli: { measure: 'time', unit: 'ms' },
  millisecond: { measure: 'time', unit: 'ms' },
  s: { measure: 'time', unit: 's' },
  sec: { measure: 'time', unit: 's' },
  second: { measure: 'time', unit: 's' },
  min: { measure: 'time', unit: 'min' },
  minute: { measure: 'time', unit: 'min' },
  hour: { measure: 'time', unit: 'h' },
  frame: { measure: 'time', unit: 'frames' },
  b: { measure: 'size', unit: 'B' },
  byte: { measure: 'size', unit: 'B' },
  kb: { measure: 'size', unit: 'kB', or: 'KiB' },
  kib: { measure: 'size', unit: 'KiB' },
  mb: { measure: 'size', unit: 'MB', or: 'MiB' },
  mib: { measure: 'size', unit: 'MiB' },
  megabyte: { measure: 'size', unit: 'MB', or: 'MiB' },
  mbyte: { measure: 'size', unit: 'MB', or: 'MiB' },
  kilobyte: { measure: 'size', unit: 'kB', or: 'KiB' },
  percent: { measure: 'percent', unit: '%' },
  pct: { measure: 'percent', unit: '%' },
  '%': { measure: 'percent', unit: '%' },
  percentage: { measure: 'percent', unit: '%' },
  prozent: { measure: 'percent', unit: '%' },
  x: { measure: 'multiplier', unit: 'x' },
  db: { measure: 'gain', unit: 'dB' },
  sekunde: { measure: 'time', unit: 's' },
  segundo: { measure: 'time', unit: 's' },
  seconde: { measure: 'time', unit: 's' },
  secondi: { measure: 'time', unit: 's' },
};

const unitWords: ReadonlyMap<string, UnitSaid> = new Map(Object.entries(unitRows));

/** The unit that a word of a key's name says; undefined where it says none. */
export function unitSaid(word: string): UnitSaid | undefined {
  return unitWords.get(word) ?? unitWords.get(stem(plainWord(word)));
}

const nothingWords: ReadonlySet<string> = new Set([
  'none',
  'never',
  'off',
  'auto',
  'unlimited',
  'nothing',
  'default',
  'no',
  'disabled',
  'aus',
  'keine',
]);

/** Whether an amount can be of the measure in some usual unit. */
function amountFits(measure: string, amount: number, unit: string, setting: SettingDefinition): number {
  const { type } = setting;
  switch (measure) {
    case 'percent':
      return amount >= 0 && amount <= 100 && (unit === '' || unit === '%')
        ? 1
        : amount > 100 && amount <= 1000
          ? 0.3
          : 0;
    case 'multiplier': {
      if (unit !== '' && unit !== '%' && unit !== 'x') return 0;
      const slow = type.kind === 'quantity' && type.max === 1;
      if (slow) return amount > 0 && (amount <= 1 || (amount <= 100 && amount >= 5)) ? 1 : 0.5;
      return amount >= 0 && amount <= 2000 ? 1 : 0.2;
    }
    case 'size':
      return amount >= 0 ? 1 : 0;
    case 'time':
      return amount >= 0 || amount === -1 ? 1 : 0;
    default:
      return 1;
  }
}

/**
 * How well a text may be a value of the setting, 0 (it cannot) to 1. What a bind looks like is judged with its neighbours,
 * not here. `unit` is what the key's name says.
 */
export function valueFit(setting: SettingDefinition, value: ValueKind, unit: UnitSaid | undefined): number {
  const { type } = setting;
  if (value.kind === 'stamp') return type.kind === 'secret' ? 0.6 : 0;
  switch (type.kind) {
    case 'boolean':
      if (unit !== undefined && unit.unit !== 'frames') return 0.2;
      if (value.kind === 'switch') return 1;
      return value.kind === 'word' ? 0.6 : value.kind === 'control' && !value.certain ? 0.4 : 0;
    case 'word': {
      if (unit !== undefined && unit.measure !== 'percent' && unit.unit !== 'frames') return 0.1;
      if (value.kind === 'word' || (value.kind === 'control' && !value.certain))
        return saysOneOf(type.of, value.kind === 'word' ? value.text : '') ? 1.1 : 0.85;
      if (value.kind === 'switch') return value.text === '0' || value.text === '1' ? 0.85 : 0.75;
      if (value.kind !== 'number') return value.kind === 'text' ? 0.6 : 0;
      return !value.digits
        ? 0
        : [0, 90, 180, 270].includes(value.amount) || (value.amount >= 0 && value.amount < 12)
          ? 0.85
          : 0.2;
    }
    case 'number':
    case 'quantity': {
      const measure = type.kind === 'number' ? 'count' : type.measure;
      if (
        unit !== undefined &&
        unit.measure !== measure &&
        !(measure === 'multiplier' && unit.measure === 'percent') &&
        !(measure === 'count' && unit.unit === 'frames') &&
        unit.unit !== 'frames'
      )
        return 0.05;
      const words = type.kind === 'quantity' ? (type.words ?? []) : [];
      if (value.kind === 'number' || (value.kind === 'switch' && /^[01]$/.test(value.text))) {
        const amount = value.kind === 'number' ? value.amount : Number(value.text);
        if (type.kind === 'number') return (type.min ?? -1) <= amount && amount <= (type.max ?? 1e6) ? 1 : 0.2;
        return amountFits(type.measure, amount, value.kind === 'number' ? value.unit : '', setting);
      }
      if (value.kind === 'word' || value.kind === 'switch')
        return nothingWords.has(plainWord(value.text)) && words.length > 0 ? 0.8 : 0;
      return 0;
    }
    case 'text':
      if (value.kind === 'word')
        return type.pattern === undefined || new RegExp(type.pattern, 'u').test(value.text) ? 1 : 0.75;
      if (value.kind === 'text' || value.kind === 'path')
        return type.pattern === undefined
          ? 0.9
          : new RegExp(type.pattern, 'u').test(value.kind === 'text' ? value.text : '')
            ? 1
            : 0.3;
      return value.kind === 'empty'
        ? 0.9
        : value.kind === 'switch'
          ? /^(no|si|off|[01])$/i.test(value.text)
            ? 0.75
            : 0.4
          : value.kind === 'number' && value.digits && value.amount >= 0 && value.amount < 24
            ? 0.75
            : 0.2;
    case 'secret':
      return value.kind === 'number' || value.kind === 'switch' ? 0.4 : value.kind === 'list' ? 0 : 1;
    case 'place':
      return value.kind === 'path'
        ? 1
        : value.kind === 'empty'
          ? 0.8
          : value.kind === 'word' || value.kind === 'text'
            ? 0.5
            : 0;
    case 'words':
    case 'texts':
      return value.kind === 'list'
        ? 1
        : value.kind === 'word' || value.kind === 'text'
          ? 0.7
          : value.kind === 'empty'
            ? 0.7
            : 0;
    case 'control':
    case 'bind':
      return value.kind === 'path' ? 0 : 1;
    default:
      return 0;
  }
}

/** Whether a text is one of the words, or shares a word's sense. */
function saysOneOf(of: readonly string[], text: string): boolean {
  const said = new Set(wordsOf(text).flatMap(({ concepts }) => [...concepts]));
  return of.some(
    (word) =>
      plainWord(word) === plainWord(text) ||
      wordsOf(word).some(({ concepts }) => [...concepts].some((one) => said.has(one))),
  );
}
