import type { CatalogueEntry } from './entry.ts';

export const planCodes = {
  'bad-record': { grade: 'error', summary: 'The record of a card is damaged' },
  'bad-plan': { grade: 'error', summary: 'The plan is not as sealed' },
} as const satisfies Record<string, CatalogueEntry>;
