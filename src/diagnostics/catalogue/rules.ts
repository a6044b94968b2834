import type { CatalogueEntry } from './entry.ts';

export const ruleCodes = {
} as const satisfies Record<string, CatalogueEntry>;
