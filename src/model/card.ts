import type { CardPath } from './paths.ts';

/** What a write would take of one file system of a card. */
export interface CardRoom {
  /** The parts that lie on it. */
  readonly parts: readonly string[];
  /** Bytes of one cluster. */
  readonly cluster: number;
  /** Bytes. */
  readonly free: number;
  /** Clusters taken beyond now at the fullest: every new file stands beside every old one. */
  readonly peak: number;
}

/** What is known of a card that was given with --card. */
export interface CardFacts {
  /** Games by system: files with one of the system's endings in its folder. */
  readonly games: ReadonlyMap<string, number>;
  /** Empty where it is not known. */
  readonly room: readonly CardRoom[];
  /** Whether a file is there; names fold case, as a card's do. */
  has(path: CardPath): boolean;
  /** The path as the card spells it, where something is there; names fold case. */
  spelled(path: CardPath): CardPath | undefined;
  /** Files below the declared roots of a part that have more bytes than that. */
  larger(part: string, bytes: number): readonly { readonly path: CardPath; readonly bytes: number }[];
}
