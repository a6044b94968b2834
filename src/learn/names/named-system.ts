import type { CatalogWritten } from '../../vocabulary/shapes/catalog.ts';

/** A game system, and a text by which files and keys may name it. */
export interface NamedSystem {
  readonly system: string;
  readonly text: string;
}

/** Every text by which the catalog's systems may be named in paths and keys. */
export function namedSystems(catalog: CatalogWritten | undefined): readonly NamedSystem[] {
  return Object.entries(catalog?.systems ?? {}).flatMap(([system, { folder }]) =>
    [...new Set([folder, system])].map((text) => ({ system, text })),
  );
}
