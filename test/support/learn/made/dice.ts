/** Random choices that a seed decides (mulberry32), for worlds that are too large for an arbitrary of their own. */
export class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 0;
  }

  /** 0 to 1, never 1. */
  roll(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  chance(share: number): boolean {
    return this.roll() < share;
  }

  /** A whole number from `least` to `most`, both ends in. */
  whole(least: number, most: number): number {
    return least + Math.floor(this.roll() * (most - least + 1));
  }

  of<T>(things: readonly T[]): T {
    const [found] = things.slice(this.whole(0, things.length - 1));
    if (found === undefined) throw new Error('nothing to choose from');
    return found;
  }

  shuffled<T>(things: readonly T[]): readonly T[] {
    const left = [...things];
    for (let at = left.length - 1; at > 0; at--) {
      const other = this.whole(0, at);
      const [a, b] = [left[at], left[other]];
      if (a !== undefined && b !== undefined) [left[at], left[other]] = [b, a];
    }
    return left;
  }

  some<T>(things: readonly T[], count: number): readonly T[] {
    return this.shuffled(things).slice(0, count);
  }
}
