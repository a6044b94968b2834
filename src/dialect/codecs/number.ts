import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Value } from '../../model/value.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { NumberWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Measure, ValueType } from '../../vocabulary/types.ts';
import { parseQuantity, printQuantity, unitsOf } from '../../vocabulary/units.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { Cannot, CodecKind, Moment } from './contract.ts';
import { oneSlot, onlyText } from './held.ts';

/** Without the noise of binary fractions: 0.1 + 0.2 is 0.3. */
function tidy(number: number): number {
  const rounded = Number(number.toPrecision(13));
  return rounded === 0 ? 0 : rounded;
}

function plain(number: number): string {
  return number.toFixed(12).replace(/\.?0+$/, '');
}

/** A number as programs write it; undefined for anything else. */
export function parseNumber(text: string): number | undefined {
  return /^\s*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?\s*$/.test(text) ? Number(text) : undefined;
}

/** Units that a file may have and a profile has not. */
const fileUnits: Readonly<Record<Measure, Readonly<Record<string, number>>>> = {
  time: { us: 0.001 },
  size: {},
  multiplier: { '%': 0.01 },
  percent: {},
  rate: { '/ hour': 24, '/ minute': 1440 },
  gain: {},
};

/** Every unit that a file may have, with its base units: those that a profile has first. Frames are counted apart. */
export function unitsInFiles(measure: Measure): readonly (readonly [string, number])[] {
  const own = unitsOf(measure).map((unit) => [unit, factorOf(unit, measure) ?? 1] as const);
  return [...own, ...Object.entries(fileUnits[measure])];
}

/** Base units in one unit of the file; undefined when the measure has no such unit. */
function factorOf(unit: string, measure: Measure): number | undefined {
  const known = new Map(Object.entries(fileUnits[measure])).get(unit.replace(/ ?\/ ?/, '/ '));
  if (known !== undefined) return known;
  const quantity = parseQuantity(`1 ${unit}`, measure);
  return quantity.kind === 'amount' ? quantity.amount : undefined;
}

function unitFault(written: NumberWritten, type: ValueType): string | undefined {
  const { unit, rate } = written;
  if (type.kind === 'number')
    return unit === undefined ? undefined : 'the setting is a plain number, which has no unit';
  if (type.kind !== 'quantity') return undefined;
  if (unit === 'frames') {
    if (type.measure !== 'time') return 'frames are a time';
    return rate === undefined ? 'frames need their rate, a number a second or system' : undefined;
  }
  if (unit === undefined) {
    return type.measure === 'time' || type.measure === 'size'
      ? `the unit of the file's number is not given (${unitsOf(type.measure).join(', ')})`
      : undefined;
  }
  return factorOf(unit, type.measure) === undefined
    ? `${JSON.stringify(unit)} is no unit of it (${unitsOf(type.measure).join(', ')})`
    : undefined;
}

function faults(written: NumberWritten, type: ValueType): readonly string[] {
  const { scale, step, steps, min, max, rate, words } = written;
  const found: string[] = [];
  const unit = unitFault(written, type);
  if (unit !== undefined) found.push(unit);
  if (scale === 0) found.push('a scale of 0 makes every value the same');
  if (step !== undefined && step < 0) found.push('a step is 0 or more');
  if (steps?.length === 0) found.push('the list of steps is empty');
  if (steps !== undefined && step !== undefined) found.push('step and steps exclude each other');
  if (min !== undefined && max !== undefined && min > max) found.push('min is above max');
  if (rate !== undefined && rate !== 'system' && !(Number(rate) > 0))
    found.push('a rate is a number above 0, or system');
  for (const word of Object.keys(words ?? {})) {
    if (type.kind === 'quantity' && type.words?.includes(word) === true) continue;
    found.push(
      `${JSON.stringify(word)} is no word of the setting${type.kind === 'quantity' && type.words !== undefined ? ` (${type.words.join(', ')})` : ''}`,
    );
  }
  return found;
}

/** The amount, in the file's unit, scaled, shifted and rounded to what the frontend takes. Words have their own text. */
export const number: CodecKind<'number'> = {
  name: 'number',
  fits: ['number', 'quantity'],
  make(written, site) {
    const { type } = site.setting;
    const wrong = faults(written, type);
    if (wrong.length > 0) {
      const findings: readonly Finding[] = wrong.map((fault) =>
        makeFinding('bad-codec', {
          place: site.place,
          setting: site.setting.id,
          detail: `The number cannot be worked out: ${fault}.`,
          wayOut: 'Correct it, as in number: { unit: ms, step: 100, min: 0 }.',
        }),
      );
      return { value: undefined, findings };
    }
    const line = new NumberLine(written, type);
    return {
      value: {
        rule: { name: 'number', says: line.says },
        nothing: undefined,
        spell(value, at) {
          if (value.kind === 'word') {
            const text = line.words.get(value.word);
            return text === undefined
              ? { kind: 'cannot', code: 'value-not-learnt', why: `the dialect has no spelling for ${value.word}` }
              : { kind: 'exact', slots: oneSlot(text) };
          }
          const amount = value.kind === 'quantity' ? value.amount : value.kind === 'number' ? value.number : undefined;
          if (amount === undefined)
            return { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no number` };
          const factor = line.factor(at);
          if (typeof factor !== 'number') return factor;
          const text = line.write(amount, factor);
          if (text === undefined) {
            return {
              kind: 'cannot',
              code: 'not-expressible',
              why: `no number near ${describeValue(value)} is free: there they are words`,
            };
          }
          const becomes = line.back(Number(text), factor);
          const far = tidy(becomes - amount);
          if (Math.abs(far) <= 1e-9 * Math.max(1, Math.abs(amount))) return { kind: 'exact', slots: oneSlot(text) };
          const how = `becomes ${line.print(becomes)}, ${line.print(Math.abs(far))} ${far < 0 ? 'less' : 'more'}`;
          return { kind: 'approximated', slots: oneSlot(text), how };
        },
        others: () => [],
        same: sameNumber,
        candidates(slots, at) {
          const text = onlyText(slots);
          const factor = line.factor(at);
          if (text === undefined) return [];
          const found: Value[] = [];
          for (const [word, spelling] of line.words) {
            if (sameNumber({ kind: 'scalar', text }, { kind: 'scalar', text: spelling }))
              found.push({ kind: 'word', word });
          }
          const held = parseNumber(text);
          if (held === undefined || typeof factor !== 'number') return found;
          const amounts = simplest(line.back(held, factor), (amount) => {
            const again = line.write(amount, factor);
            return allows(type, amount) && again !== undefined && parseNumber(again) === held;
          });
          return [...found, ...amounts.map((amount) => line.value(amount))];
        },
      },
      findings: [],
    };
  },
};

/** Whether the setting may have this amount at all. */
function allows(type: ValueType, amount: number): boolean {
  if (type.kind !== 'number' && type.kind !== 'quantity') return false;
  if (type.kind === 'number' && type.whole && !Number.isInteger(amount)) return false;
  return amount >= (type.min ?? -Infinity) && amount <= (type.max ?? Infinity);
}

function sameNumber(held: SyntaxValue, said: SyntaxValue): boolean {
  if (held.kind !== 'scalar' || said.kind !== 'scalar') return false;
  if (held.text === said.text) return true;
  const number = parseNumber(held.text);
  return number !== undefined && number === parseNumber(said.text);
}

/** The amount itself where it is a round one, else the nearest whole one, else the one of fewest digits that will do. */
function simplest(amount: number, fits: (amount: number) => boolean): readonly number[] {
  const found: number[] = [];
  if (Number(amount.toFixed(3)) === amount) found.push(amount);
  found.push(Math.round(amount));
  for (let digits = 1; digits <= 15; digits++) found.push(Number(amount.toPrecision(digits)));
  return found.filter(fits).slice(0, 1);
}

/** The numbers that the frontend takes, and the way between them and amounts in base units. */
class NumberLine {
  readonly words: ReadonlyMap<string, string>;
  readonly says: string;
  private readonly written: NumberWritten;
  private readonly measure: Measure | undefined;
  private readonly step: number;
  private readonly taken: ReadonlySet<number>;

  constructor(written: NumberWritten, type: ValueType) {
    this.written = written;
    this.measure = type.kind === 'quantity' ? type.measure : undefined;
    this.words = new Map(Object.entries(written.words ?? {}));
    const numbers = [...this.words.values()].map(parseNumber).filter((n) => n !== undefined);
    this.taken = new Set(numbers);
    const { decimals, step } = written;
    const finest = decimals === undefined ? 1 : 10 ** -decimals;
    this.step = step === undefined || (step === 0 && decimals !== undefined) ? finest : step;
    const unit = written.unit === undefined ? '' : ` in ${written.unit}`;
    const rounded =
      written.steps !== undefined
        ? `the nearest of ${written.steps.join(', ')}`
        : this.step === 0
          ? ''
          : `rounded to ${plain(this.step)}`;
    this.says = ['number' + unit, rounded].filter((part) => part !== '').join(', ');
  }

  factor(at: Moment): number | Cannot {
    const { unit, rate } = this.written;
    if (unit !== 'frames')
      return unit === undefined || this.measure === undefined ? 1 : (factorOf(unit, this.measure) ?? 1);
    if (rate !== 'system') return 1000 / Number(rate);
    const named = at.names('system.frame-rate');
    return typeof named === 'string'
      ? 1000 / Number(named)
      : {
          kind: 'cannot',
          code: 'name-without-value',
          why: "its frames are counted at the system's own rate, and no one system with a frame rate is meant",
        };
  }

  back(number: number, factor: number): number {
    const { scale = 1, offset = 0 } = this.written;
    return tidy(((number - offset) / scale) * factor);
  }

  value(amount: number): Value {
    return this.measure === undefined
      ? { kind: 'number', number: amount }
      : { kind: 'quantity', measure: this.measure, amount };
  }

  print(amount: number): string {
    const short = Number(amount.toPrecision(6));
    return this.measure === undefined ? plain(short) : printQuantity(short, this.measure);
  }

  /** The text of the nearest number that the frontend takes and that is no word; undefined when there is none. */
  write(amount: number, factor: number): string | undefined {
    const { scale = 1, offset = 0, steps, decimals } = this.written;
    const wanted = tidy((amount / factor) * scale + offset);
    if (!Number.isFinite(wanted) || Math.abs(wanted) >= 1e15) return undefined;
    const choices = (steps ?? this.near(wanted)).filter((n) => !this.taken.has(n) && this.within(n));
    let best: number | undefined;
    for (const choice of choices)
      if (best === undefined || Math.abs(choice - wanted) < Math.abs(best - wanted)) best = choice;
    if (best === undefined) return undefined;
    const text = decimals === undefined ? plain(best) : best.toFixed(decimals);
    return this.taken.has(Number(text)) ? undefined : text.replace(/^-(0(\.0*)?)$/, '$1');
  }

  private within(number: number): boolean {
    const { min = -Infinity, max = Infinity } = this.written;
    return number >= min && number <= max;
  }

  /** Numbers of the grid around the wanted one, as many as words could take, brought into bounds. */
  private near(wanted: number): readonly number[] {
    const { min = -Infinity, max = Infinity } = this.written;
    const inside = Math.min(Math.max(wanted, min), max);
    if (this.step === 0) return [inside];
    const reach = this.taken.size + 1;
    const middle = Math.round(inside / this.step);
    const found: number[] = [];
    for (let k = -reach; k <= reach; k++) found.push(tidy((middle + k) * this.step));
    // Bounds that are off the grid are numbers that the frontend takes all the same.
    if (inside !== wanted && !found.some((n) => this.within(n))) found.push(inside);
    return found;
  }
}
