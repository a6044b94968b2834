import type { Rule } from './contract.ts';

/** In the order in which findings are shown when they stand on one line. */
export const rules: readonly Rule[] = Object.freeze([]);
