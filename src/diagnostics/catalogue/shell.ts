import type { CatalogueEntry } from './entry.ts';

export const shellCodes = {
  'not-fetched': { grade: 'error', summary: 'No run of fetch ended here' },
  'fetched-left-out': { grade: 'warning', summary: 'Some files brought are left out' },
} as const satisfies Record<string, CatalogueEntry>;
