/** One code of the catalogue. The summary is under eight words and holds no user values, so that readers learn it. */
export interface CatalogueEntry {
  readonly grade: 'error' | 'warning' | 'note';
  readonly summary: string;
}
