import type { Lens } from '../dialect/contract.ts';
import type { Compiled } from '../model/compiled.ts';
import type { LayerDocument } from '../model/document.ts';
import type { LensWith } from './read-card.ts';

/** A profile with all its layers, resolved and compiled: as it is, or as it would be with other texts. */
export interface World {
  /** Lowest first, the profile last. */
  readonly layers: readonly LayerDocument[];
  /** Spelled with the texts of secrets where these are known: it is compared, and never shown. */
  readonly compiled: Compiled;
  /** By instance; they spell as `compiled` is spelled. */
  readonly lenses: ReadonlyMap<string, Lens>;
  readonly lensWith: LensWith;
  /** How many errors loading, resolving and compiling found. */
  readonly errors: number;
}

/** Texts of layers by their source's name, in place of those on the disk. */
export type Texts = ReadonlyMap<string, string>;

/** The same profile with other texts; undefined when it can no longer be compiled. */
export type TryTexts = (texts: Texts, secrets: ReadonlyMap<string, string>) => World | undefined;
