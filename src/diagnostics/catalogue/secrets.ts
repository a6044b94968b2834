import type { CatalogueEntry } from './entry.ts';

export const secretCodes = {
  'bad-secrets-file': { grade: 'error', summary: 'The secrets file is not understood' },
  'secrets-file-open': { grade: 'warning', summary: 'Others may read the secrets file' },
  'secrets-file-not-written': { grade: 'error', summary: 'The secrets file cannot be written' },
  'secret-missing': { grade: 'error', summary: 'The value of a secret is missing' },
  'secret-not-carried': { grade: 'error', summary: 'The file cannot hold this secret' },
  'secrets-in-plain-text': { grade: 'warning', summary: 'The card will hold readable passwords' },
  'wifi-password-length': { grade: 'error', summary: 'This is no Wi-Fi password' },
} as const satisfies Record<string, CatalogueEntry>;
