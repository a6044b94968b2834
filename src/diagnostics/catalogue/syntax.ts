import type { CatalogueEntry } from './entry.ts';

export const syntaxCodes = {
} as const satisfies Record<string, CatalogueEntry>;
