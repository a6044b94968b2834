import type { CatalogueEntry } from './entry.ts';

export const learnCodes = {
  'labels-contradict': { grade: 'error', summary: 'Two labels contradict each other' },
  'change-changed-nothing': { grade: 'warning', summary: 'A change changed nothing' },
  'copies-of-two-frontends': { grade: 'error', summary: 'Copies have no file in common' },
} as const satisfies Record<string, CatalogueEntry>;
