import type { CatalogueEntry } from './entry.ts';

export const compileCodes = {
} as const satisfies Record<string, CatalogueEntry>;
