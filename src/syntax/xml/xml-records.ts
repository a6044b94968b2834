import type { RecordSyntax } from '../contract.ts';

export const xmlRecords: RecordSyntax = {
  list: () => [],
  change: () => ({ edits: [], results: [] }),
};
