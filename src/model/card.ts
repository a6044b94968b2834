import type { CardPath } from './paths.ts';

/** What is known of a card that was given with --card. */
export interface CardFacts {
  /** Games by system: files with one of the system's endings in its folder. */
  readonly games: ReadonlyMap<string, number>;
  /** Whether a file is there; names fold case, as a card's do. */
  has(path: CardPath): boolean;
}
