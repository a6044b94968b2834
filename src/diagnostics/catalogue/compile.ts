import type { CatalogueEntry } from './entry.ts';

export const compileCodes = {
  'two-texts-for-one-key': { grade: 'error', summary: 'Two settings write one key differently' },
  'nowhere-expressible': { grade: 'error', summary: 'No frontend here can say this' },
  'instances-will-differ': { grade: 'warning', summary: 'Only some frontends can say this' },
  'base-unreadable': { grade: 'error', summary: 'The file to change cannot be read' },
} as const satisfies Record<string, CatalogueEntry>;
