import type { CodecsWritten } from '../../../../src/vocabulary/shapes/dialect.ts';
import type { SettingDefinition } from '../../../../src/vocabulary/types.ts';
import type { Dice } from './dice.ts';

/** Off and on as one frontend spells them. */
const pairs: readonly (readonly [string, string])[] = [
  ['false', 'true'],
  ['0', '1'],
  ['no', 'yes'],
  ['off', 'on'],
  ['nao', 'sim'],
  ['aus', 'an'],
  ['N', 'Y'],
  ['Disabled', 'Enabled'],
];

export interface Spelling {
  readonly codec: CodecsWritten;
  /** Values in the words of `valueFromText`, the first is what a frontend begins with. */
  readonly values: readonly string[];
}

/** How one frontend spells values, from the closed set of codecs. */
export class MadeCodecs {
  readonly #dice: Dice;
  readonly #pair: readonly [string, string];
  readonly #ownWords: boolean;

  constructor(dice: Dice) {
    this.#dice = dice;
    this.#pair = dice.of(pairs);
    this.#ownWords = dice.chance(0.5);
  }

  /** Undefined: no spelling of this type is made here. */
  of(setting: SettingDefinition, cores: readonly string[]): Spelling | undefined {
    const dice = this.#dice;
    const { type } = setting;
    switch (type.kind) {
      case 'boolean':
        return { codec: { values: this.#switch() }, values: dice.shuffled(['true', 'false']) };
      case 'word':
        return { codec: { values: this.#table(type.of) }, values: dice.shuffled(type.of) };
      case 'number': {
        const least = type.min ?? 0;
        const offset = dice.chance(0.15) ? dice.of([-1, 1]) : 0;
        return {
          codec: { number: offset === 0 ? {} : { offset } },
          values: dice
            .some(
              Array.from({ length: 9 }, (_, at) => least + at),
              4,
            )
            .map(String),
        };
      }
      case 'quantity':
        return this.#quantity(type);
      case 'text':
        return this.#text(type.examples);
      case 'place':
        return {
          codec: { path: dice.chance(0.3) ? { trailing: true } : {} },
          values: dice.shuffled(['games:kept', 'games:kept/here', 'settings:mine', 'games:shelf/own']),
        };
      case 'words': {
        const sets = dice.shuffled([type.of.slice(0, 2), type.of.slice(1, 3), type.of.slice(0, 3), type.of.slice(2)]);
        const separator = dice.of([',', ', ', ';', '|', ' ']);
        return {
          codec: {
            list: { separator, ...(this.#ownWords ? { values: this.#table(type.of) } : {}) },
          },
          values: sets.map((words) => words.join(', ')),
        };
      }
      case 'texts':
        return {
          codec: { list: { separator: dice.of([',', ';', '|']) } },
          values: dice.shuffled([type.examples.join(', '), type.examples[0] ?? 'en', 'orrery, lathe']),
        };
      case 'cores':
        return { codec: { text: '{{core.id}}' }, values: dice.shuffled(cores) };
      case 'secret':
      case 'control':
      case 'bind':
      case 'networks':
      case 'options':
      case 'lists':
        return undefined;
    }
  }

  #switch(): Readonly<Record<string, string>> {
    const [off, on] = this.#dice.chance(0.12) ? this.#dice.of(pairs) : this.#pair;
    return this.#dice.chance(0.25) ? { true: off, false: on } : { true: on, false: off };
  }

  #table(words: readonly string[]): Readonly<Record<string, string>> {
    const numbers = this.#dice.chance(0.3);
    const from = this.#dice.whole(0, 1);
    return Object.fromEntries(
      words.map((word, at) => [
        word,
        numbers
          ? String(at + from)
          : this.#ownWords
            ? `${this.#dice.of(['ka', 'mu', 'ze', 'tor'])}${'lim nor vas pel ruk dof bes gam'.split(' ')[at] ?? String(at)}`
            : word.replaceAll('-', '_'),
      ]),
    );
  }

  #quantity(type: SettingDefinition['type'] & { readonly kind: 'quantity' }): Spelling {
    const dice = this.#dice;
    const words = type.words === undefined ? {} : { words: { [type.words[0] ?? '']: dice.of(['0', '-1', 'never']) } };
    const extra = type.words === undefined || !dice.chance(0.5) ? [] : [type.words[0] ?? ''];
    switch (type.measure) {
      case 'time':
        return {
          codec: { number: { ...dice.of([{ unit: 's' }, { unit: 'ms' }, { unit: 'frames', rate: 60 }]), ...words } },
          values: [...dice.some(['5 s', '10 s', '15 s', '30 s', '60 s', '120 s'], 4), ...extra],
        };
      case 'size':
        return {
          codec: { number: { unit: dice.of(['MiB', 'KiB', 'B']), ...words } },
          values: dice.some(['16 MiB', '32 MiB', '48 MiB', '64 MiB', '128 MiB'], 4),
        };
      case 'multiplier':
        return {
          codec: {
            number: { ...dice.of([{ unit: 'x', step: 0.05 }, { unit: '%' }, { unit: 'x', decimals: 2 }]), ...words },
          },
          values: [
            ...dice.some(type.max === 1 ? ['0.25 x', '0.5 x', '0.75 x', '0.3 x'] : ['2 x', '3 x', '4.5 x', '8 x'], 4),
            ...extra,
          ],
        };
      case 'percent':
        return {
          codec: {
            number: dice.of([
              { unit: '%' },
              { unit: '%', scale: 0.01, decimals: 2 },
              { unit: '%', scale: -1, offset: 100 },
            ]),
          },
          values: dice.some(['5 %', '10 %', '15 %', '20 %', '22 %'], 4),
        };
      case 'rate':
        return { codec: { number: { unit: '/day' } }, values: dice.some(['100 / day', '500 / day', '900 / day'], 3) };
      case 'gain':
        return { codec: { number: { unit: 'dB' } }, values: dice.some(['-3 dB', '-6 dB', '2 dB'], 3) };
    }
  }

  #text(examples: readonly string[]): Spelling {
    const dice = this.#dice;
    const values = dice.shuffled([...examples]);
    if (values.length > 2 && dice.chance(0.5)) return { codec: { values: this.#table(values) }, values };
    return { codec: { text: dice.chance(0.2) ? 'files/{{value}}.cfg' : '{{value}}' }, values };
  }
}
