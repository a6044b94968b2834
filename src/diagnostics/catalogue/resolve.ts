import type { CatalogueEntry } from './entry.ts';

export const resolveCodes = {
} as const satisfies Record<string, CatalogueEntry>;
