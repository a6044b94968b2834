import { parseNumber, unitsInFiles } from '../../dialect/codecs/number.ts';
import type { NumberWritten } from '../../vocabulary/shapes/dialect.ts';
import type { ValueType } from '../../vocabulary/types.ts';
import type { Fit, FitMaker, Point } from './contract.ts';

/** Frames a second at which programs count, when they count frames. */
const rates = [60, 50] as const;
const scales = [1, 0.01, 100, 0.1, 10, 0.001, 1000] as const;

/** Numbers from which programs count, or count down. */
const offsets: ReadonlySet<number> = new Set([-100, -1, 1, 100, 255]);

interface Line {
  readonly unit: string | undefined;
  readonly rate?: number;
  /** The file's number is amount / factor × scale + offset. */
  readonly factor: number;
  readonly scale: number;
  readonly offset: number;
}

function near(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a), Math.abs(b));
}

function unitsOfType(type: ValueType): readonly Pick<Line, 'unit' | 'rate' | 'factor'>[] {
  if (type.kind !== 'quantity') return [{ unit: undefined, factor: 1 }];
  const plain = unitsInFiles(type.measure).map(([unit, factor]) => ({ unit, factor }));
  return type.measure === 'time'
    ? [...plain, ...rates.map((rate) => ({ unit: 'frames', rate, factor: 1000 / rate }))]
    : plain;
}

/** Every line of the closed set through all points: by unit, scale and offset, turned round too. */
function linesThrough(type: ValueType, points: readonly (readonly [number, number])[]): readonly Line[] {
  const found: Line[] = [];
  const [first] = points;
  if (first === undefined) return [];
  const distinct = new Set(points.map(([amount]) => amount)).size;
  const take = (line: Line): void => {
    const slope = line.scale / line.factor;
    if (found.some((one) => near(one.scale / one.factor, slope) && near(one.offset, line.offset))) return;
    if (points.every(([amount, number]) => near((amount / line.factor) * line.scale + line.offset, number)))
      found.push(line);
  };
  // Simplest first: a unit alone, then a scale, then an offset; of those that say the same the first is kept.
  for (const scale of scales) for (const unit of unitsOfType(type)) take({ ...unit, scale, offset: 0 });
  if (distinct > 1)
    for (const scale of [...scales, ...scales.map((one) => -one)])
      for (const unit of unitsOfType(type).filter(({ rate }) => rate === undefined)) {
        const offset = Number((first[1] - (first[0] / unit.factor) * scale).toFixed(6));
        // Two points lie on a line always: an offset that no program would take needs a third.
        if (distinct > 2 ? Number.isInteger(offset) : offsets.has(offset)) take({ ...unit, scale, offset });
      }
  return found;
}

/** Digits behind the point: as many always, or as few as needed. */
function decimalsOf(texts: readonly string[]): number | undefined {
  const lengths = new Set(texts.map((text) => /\.(\d+)$/.exec(text)?.[1]?.length ?? 0));
  const [length = 0] = lengths;
  return lengths.size === 1 && length > 0 && texts.some((text) => text.endsWith('0')) ? length : undefined;
}

function stepOf(texts: readonly string[]): number | undefined {
  const longest = Math.max(0, ...texts.map((text) => /\.(\d+)$/.exec(text)?.[1]?.length ?? 0));
  return longest === 0 ? undefined : Number((10 ** -longest).toFixed(longest));
}

/** A number: unit, scale, offset, inversion; words of the setting have texts of their own. */
export const fitNumber: FitMaker = (setting, points, others) => {
  const { type } = setting;
  if (type.kind !== 'number' && type.kind !== 'quantity') return [];
  const numbers: (readonly [number, number])[] = [];
  const texts: string[] = [];
  const words = new Map<string, string>();
  for (const { value, held } of points) {
    if (held.kind === 'list') return [];
    if (value.kind === 'word') {
      if ((words.get(value.word) ?? held.text) !== held.text) return [];
      words.set(value.word, held.text);
      continue;
    }
    const number = parseNumber(held.text);
    const amount = amountOf(value);
    if (number === undefined || amount === undefined) return [];
    numbers.push([amount, number]);
    texts.push(held.text);
  }
  if (numbers.length === 0) return [];
  for (const held of others) if (held.kind === 'scalar' && parseNumber(held.text) !== undefined) texts.push(held.text);
  const decimals = decimalsOf(texts);
  const step = stepOf(texts);
  return linesThrough(type, numbers).map(({ unit, rate, scale, offset }): Fit => {
    const codec: NumberWritten = {
      ...(unit === undefined ? {} : { unit: unit.replace('/ ', '/') }),
      ...(rate === undefined ? {} : { rate }),
      ...(scale === 1 ? {} : { scale }),
      ...(offset === 0 ? {} : { offset }),
      ...(decimals !== undefined ? { decimals } : step !== undefined ? { step } : {}),
      ...(words.size === 0 ? {} : { words: Object.fromEntries(words) }),
    };
    return { codec: { number: codec }, kind: 'law', says: saysOf(codec) };
  });
};

function amountOf(value: Point['value']): number | undefined {
  return value.kind === 'quantity' ? value.amount : value.kind === 'number' ? value.number : undefined;
}

function saysOf({ unit, scale, offset }: NumberWritten): string {
  return [
    unit === undefined ? 'a number' : `a number in ${unit}`,
    ...(scale === undefined ? [] : [`times ${scale}`]),
    ...(offset === undefined ? [] : [`plus ${offset}`]),
  ].join(' ');
}
