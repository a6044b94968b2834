import type { CatalogueEntry } from './entry.ts';

export const loadCodes = {
} as const satisfies Record<string, CatalogueEntry>;
