import type { CatalogueEntry } from './entry.ts';

export const secretCodes = {
  'bad-secrets-file': { grade: 'error', summary: 'The secrets file is not understood' },
  'secrets-file-open': { grade: 'warning', summary: 'Others may read the secrets file' },
  'secret-missing': { grade: 'error', summary: 'The value of a secret is missing' },
} as const satisfies Record<string, CatalogueEntry>;
