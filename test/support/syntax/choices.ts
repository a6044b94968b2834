import fc from 'fast-check';

/** Decisions of a text builder, drawn from a list of numbers so that fast-check can shrink them. */
export class Choices {
  readonly #numbers: readonly number[];
  #at = 0;

  constructor(numbers: readonly number[]) {
    this.#numbers = numbers;
  }

  /** 0 … below - 1; 0 when the numbers are used up. */
  below(below: number): number {
    const number = this.#numbers[this.#at] ?? 0;
    this.#at += 1;
    return number % below;
  }

  of<T>(...options: readonly [T, ...T[]]): T {
    return options[this.below(options.length)] ?? options[0];
  }

  /** True once in `times` on average. */
  rarely(times: number): boolean {
    return this.below(times) === times - 1;
  }
}

export function choices(maxLength: number): fc.Arbitrary<Choices> {
  return fc
    .array(fc.nat(5039), { minLength: Math.min(10, maxLength), maxLength, size: 'max' })
    .map((numbers) => new Choices(numbers));
}
