import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { DialectWritten } from '../vocabulary/shapes/dialect.ts';
import type { LayerWritten } from '../vocabulary/shapes/profile.ts';

/** Member names and indices from the top of a document. */
export type Path = readonly (string | number)[];

/** A checked YAML document: plain data of the shape of its kind, and the place of every value and key in it. */
export interface Document<T> {
  readonly source: SourceText;
  readonly data: T;
  /** Place of the value at a path; the nearest parent that is there when it is not. */
  place(path: Path): Place;
  /** Place of the key at a path; of the value, for list items and the top. */
  keyPlace(path: Path): Place;
}

export type LayerDocument = Document<LayerWritten>;
export type DialectDocument = Document<DialectWritten>;
export type CatalogDocument = Document<CatalogWritten>;
