import type { RecordSyntax } from '../contract.ts';

export const jsonRecords: RecordSyntax = {
  list: () => [],
  change: () => ({ edits: [], results: [] }),
};
