import { nameWords } from '../../../../src/learn/names/name-words.ts';
import type { SettingDefinition } from '../../../../src/vocabulary/types.ts';
import type { Dice } from './dice.ts';

export type Habit = 'trade' | 'terse' | 'numbers' | 'strange';
type Casing = 'camel' | 'snake' | 'kebab' | 'upper' | 'spaced';

const syllables = 'ba ro ti lu me sa no ki fe du wo la pi go ne ra vi mo'.split(' ');

/** Names of keys as one frontend has them: of the trade's words, short, bare numbers, or in no language at all. */
export class KeyNames {
  readonly #dice: Dice;
  readonly #habit: Habit;
  readonly #casing: Casing;
  readonly #taken = new Set<string>();

  constructor(dice: Dice, habit: Habit, casings: readonly Casing[]) {
    this.#dice = dice;
    this.#habit = habit;
    this.#casing = dice.of(casings);
  }

  of(setting: SettingDefinition): string {
    const phrase = this.#dice.of([setting.id.split('.').slice(-2).join(' '), ...setting.words]);
    return this.#fresh(this.#habit === 'trade' ? nameWords(phrase) : this.#made());
  }

  /** A name that says nothing of a setting. */
  other(): string {
    return this.#fresh(this.#habit === 'numbers' ? this.#made() : [this.#word(), this.#word()]);
  }

  #made(): readonly string[] {
    if (this.#habit === 'numbers') return [String(this.#dice.whole(10, 999))];
    if (this.#habit === 'terse') return [this.#word().slice(0, this.#dice.whole(2, 4))];
    return this.#dice.chance(0.5) ? [this.#word(), this.#word()] : [this.#word()];
  }

  #word(): string {
    return Array.from({ length: this.#dice.whole(2, 3) }, () => this.#dice.of(syllables)).join('');
  }

  #fresh(words: readonly string[]): string {
    const name = this.#cased(words.length === 0 ? [this.#word()] : words);
    if (!this.#taken.has(name)) {
      this.#taken.add(name);
      return name;
    }
    return this.#fresh(this.#habit === 'numbers' ? this.#made() : [...words, this.#word()]);
  }

  #cased(words: readonly string[]): string {
    const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);
    switch (this.#casing) {
      case 'camel':
        return words.map((word, at) => (at === 0 ? word : capital(word))).join('');
      case 'snake':
        return words.join('_');
      case 'kebab':
        return words.join('-');
      case 'upper':
        return words.join('_').toUpperCase();
      case 'spaced':
        return words.map(capital).join(' ');
    }
  }
}
