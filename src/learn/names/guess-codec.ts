import { parseNumber } from '../../dialect/codecs/number.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { CodecsWritten } from '../../vocabulary/shapes/codecs.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { wordsOf } from './lexicon.ts';
import { plainWord } from './name-words.ts';
import type { UnitSaid } from './value-fit.ts';
import type { ValueKind } from './value-kind.ts';

/** How values are spelled, or what one text does not show of it, as a clause. */
export type Guess =
  /** `says`: a clause for people. */
  | { readonly kind: 'codec'; readonly codec: CodecsWritten; readonly says: string }
  | { readonly kind: 'open'; readonly why: string };

/** What a key shows of how its values are spelled. */
export interface Shown {
  readonly held: SyntaxValue;
  readonly value: ValueKind;
  /** Its name says the contrary of the setting. */
  readonly turned: boolean;
  /** The unit that its name or its text says. */
  readonly unit: UnitSaid | undefined;
}

const open = (why: string): Guess => ({ kind: 'open', why });
const codec = (written: CodecsWritten, says: string): Guess => ({ kind: 'codec', codec: written, says });

/** The unit of a bare number: measures that are counted in one way, and speeds told by their size. */
function usualUnit({ type }: SettingDefinition, amount: number): string | undefined {
  if (type.kind !== 'quantity') return undefined;
  switch (type.measure) {
    case 'percent':
      return '%';
    case 'gain':
      return 'dB';
    case 'multiplier':
      // Nobody goes slower by a thousandth, or faster by a hundredfold.
      if (type.max === 1) return amount > 0 && amount <= 1 ? 'x' : amount >= 5 ? '%' : undefined;
      return amount >= 1 && amount <= 16 ? 'x' : amount >= 100 ? '%' : undefined;
    case 'time':
    case 'size':
    case 'rate':
      return undefined;
  }
}

function numberGuess(setting: SettingDefinition, { held, unit }: Shown): Guess {
  const text = held.kind === 'scalar' ? held.text : '';
  const amount = parseNumber(text);
  if (amount === undefined) return open('how its numbers are written');
  const digits = /\.(\d+)$/.exec(text.trim())?.[1]?.length ?? 0;
  const step =
    digits === 0 ? {} : text.endsWith('0') ? { decimals: digits } : { step: Number((10 ** -digits).toFixed(digits)) };
  const { type } = setting;
  if (type.kind !== 'quantity') return codec({ number: step }, 'a number');
  if (unit?.or !== undefined) return open(`whether its unit is ${unit.unit} or ${unit.or}`);
  const said = unit?.unit ?? usualUnit(setting, amount);
  if (said === undefined) return open('the unit of its number');
  // A share is written as a part of 1, or of 100.
  const scale =
    type.measure === 'percent' && said === '%' && digits > 0 && Math.abs(amount) <= 1 ? { scale: 0.01 } : {};
  // By common practice, where there is no least amount, 0 stands for the word that says there is none.
  const [word] = type.words ?? [];
  const words = word === undefined ? {} : { words: { [word]: '0' } };
  return codec(
    { number: { unit: said, ...(said === 'frames' ? { rate: 60 } : {}), ...scale, ...step, ...words } },
    `a number in ${said}${word === undefined ? '' : `, and 0 for ${word}`}`,
  );
}

/** The one word of the setting that a text is, or shares a sense with. */
function wordSaid(of: readonly string[], text: string): string | undefined {
  const same = of.find((word) => plainWord(word) === plainWord(text));
  if (same !== undefined) return same;
  const said = new Set(wordsOf(text).flatMap(({ concepts }) => [...concepts]));
  const found = of.filter((word) => wordsOf(word).some(({ concepts }) => [...concepts].some((one) => said.has(one))));
  return found.length === 1 ? found[0] : undefined;
}

const separators = [', ', ',', '; ', ';', '|'] as const;

function listSays(separator: string | undefined): string {
  return separator === undefined ? 'a list of the file format' : `items joined by ${JSON.stringify(separator)}`;
}

function listGuess({ type }: SettingDefinition, { held }: Shown): Guess {
  const separator = held.kind === 'list' ? undefined : separators.find((one) => held.text.includes(one));
  const items = held.kind === 'list' ? held.items.map(({ text }) => text) : held.text.split(separator ?? '\0');
  if (held.kind === 'scalar' && separator === undefined) return open('what joins several of them');
  const joined = separator === undefined ? {} : { separator };
  if (type.kind !== 'words') return codec({ list: joined }, listSays(separator));
  const words = items.map((text) => wordSaid(type.of, text));
  if (words.length === 0 || words.includes(undefined) || new Set(words).size < words.length)
    return open('how its words are written');
  const spelled = words.flatMap((word, at) => (word === undefined ? [] : [[word, items[at] ?? ''] as const]));
  return codec({ list: { ...joined, values: Object.fromEntries(spelled) } }, listSays(separator));
}

/**
 * How the value is spelled, as far as one text tells: a switch's other spelling is its usual partner, a unit is the name's
 * or the text's. Controls are told where the numbering is known, not here.
 */
export function guessCodec(setting: SettingDefinition, shown: Shown): Guess {
  const { type } = setting;
  const { held, value, turned } = shown;
  switch (type.kind) {
    case 'boolean': {
      if (value.kind !== 'switch') return open('how on and off are written');
      const on = value.on ? value.text : value.other;
      const off = value.on ? value.other : value.text;
      const [yes, no] = turned ? [off, on] : [on, off];
      return codec(
        { values: { true: yes, false: no } },
        `${JSON.stringify(yes)} for true, ${JSON.stringify(no)} for false`,
      );
    }
    case 'word': {
      const text = held.kind === 'scalar' ? held.text : '';
      const word = /^\d*$/.test(text) ? undefined : wordSaid(type.of, text);
      return word === undefined
        ? open('which text stands for which word')
        : codec({ values: { [word]: text } }, `${JSON.stringify(text)} for ${word}, and other words not known yet`);
    }
    case 'number':
    case 'quantity':
      return numberGuess(setting, shown);
    case 'text': {
      const text = held.kind === 'scalar' ? held.text : '';
      const fits = type.pattern === undefined ? !/^\d*$/.test(text) : new RegExp(type.pattern, 'u').test(text);
      return fits ? codec({ text: '{{value}}' }, 'its own text') : open('which text stands for which value');
    }
    case 'secret':
      return codec({ text: '{{value}}' }, 'its own text');
    case 'place': {
      const text = held.kind === 'scalar' ? held.text : '';
      if (!text.startsWith('/')) return open('how it names a folder');
      return codec(
        { path: text.length > 1 && text.endsWith('/') ? { trailing: true } : {} },
        'a folder where it is mounted',
      );
    }
    case 'words':
    case 'texts':
      return listGuess(setting, shown);
    case 'control':
    case 'bind':
      return open('how controls are numbered');
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return open('how it is written');
  }
}
