/** One thing that may be done with one item; the last option of every item of ours is to drop it. */
export interface Option {
  /** At least 0, whole. */
  readonly cost: number;
  /** What the option takes: no two items of one clique take the same. Undefined: nothing. */
  readonly takes: number | undefined;
}

/**
 * A choice to be made: one option for each item, at the least sum of `base`, the options' costs and what pairs of them
 * cost. All whole numbers, so that sums are exact.
 */
export interface Task {
  readonly base: number;
  /** By item. */
  readonly options: readonly (readonly Option[])[];
  /**
   * Groups of items no two of which may take the same thing. Every item is in one group at most; what pairs of items in
   * different groups (or in none) may not do together, `pair` says.
   */
  readonly cliques: readonly (readonly number[])[];
  /** Partners of an item: those with which any pair of options costs something. */
  readonly partners: readonly (readonly number[])[];
  /** What two options cost together, at least 0; Infinity: they cannot be had together. Symmetric. */
  pair(item: number, option: number, other: number, otherOption: number): number;
}
