import type { CatalogueEntry } from './entry.ts';

export const resolveCodes = {
  'wrong-value': { grade: 'error', summary: 'The setting cannot hold this value' },
  'secret-in-plain-text': { grade: 'error', summary: 'A secret stands in plain text' },
  'control-missing': { grade: 'error', summary: 'The device lacks this control' },
  'no-free-wish': { grade: 'error', summary: 'No wished control is free' },
  'set-twice': { grade: 'error', summary: 'One layer sets this twice' },
  'game-without-system': { grade: 'error', summary: 'A game is named without its system' },
  'no-core-runs': { grade: 'error', summary: 'No wanted core can run here' },
  'unknown-core': { grade: 'error', summary: 'The catalog has no such core' },
  'unknown-system': { grade: 'error', summary: 'The catalog has no such system' },
  'unknown-frontend': { grade: 'error', summary: 'The profile has no such frontend' },
  'unknown-part': { grade: 'error', summary: 'The device has no such part' },
  'unknown-extra-file': { grade: 'error', summary: 'The dialect has no such file' },
  'bad-root': { grade: 'error', summary: 'The root is not a card folder' },
  'catalog-wanted': { grade: 'error', summary: 'Cores are chosen without a catalog' },
} as const satisfies Record<string, CatalogueEntry>;
