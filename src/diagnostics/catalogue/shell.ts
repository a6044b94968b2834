import type { CatalogueEntry } from './entry.ts';

export const shellCodes = {
} as const satisfies Record<string, CatalogueEntry>;
