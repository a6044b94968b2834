/** For each of a setting's copies, which of its choices it is set to: choice 0 first, and a new choice only after all lower ones. */
export type Pattern = readonly number[];

/**
 * Patterns of `length` copies over exactly `choices` choices, at most `count` of them, in lexicographic order. How a program
 * spells a choice is not known, so what can be told from copies is only which of them hold the same: a partition of the
 * copies. Two settings are told apart when theirs differ. A partition is written as its restricted growth string (Knuth,
 * The Art of Computer Programming 4A, 7.2.1.5).
 */
export function patterns(count: number, choices: number, length: number): readonly Pattern[] {
  const found: Pattern[] = [];
  const extend = (prefix: readonly number[], used: number): void => {
    if (found.length >= count || choices - used > length - prefix.length) return;
    if (prefix.length === length) {
      found.push(prefix);
      return;
    }
    for (let next = 0; next <= Math.min(used, choices - 1); next += 1)
      extend([...prefix, next], Math.max(used, next + 1));
  };
  extend([], 0);
  return found;
}

/** The fewest copies by which so many settings of each number of choices are all told apart. */
export function copiesFor(settingsByChoices: ReadonlyMap<number, number>): number {
  let length = 0;
  for (const [choices, count] of settingsByChoices) {
    length = Math.max(length, choices);
    while (patterns(count, choices, length).length < count) length += 1;
  }
  return length;
}
