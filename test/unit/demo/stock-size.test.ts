// The demo's stock trees are of realistic size, and readers that are not ours take every file of them: Python's configparser and
// tomllib, jq, xmllint; for pairs, which no library reads, one written for the tests.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readOutside } from '../../support/demo/read-outside.ts';

const dialects = new URL('../../../profiles/dialects', import.meta.url).pathname;

function stockFiles(dialect: string): readonly string[] {
  const stock = join(dialects, dialect, 'stock');
  return readdirSync(stock, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/^(about|release)/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

/** At least so many keys, all files of the dialect's stock together. */
const sizes: readonly (readonly [dialect: string, keys: number])[] = [
  ['harrow', 1001],
  ['sill', 80],
  ['withy', 100],
  ['coble', 80],
  ['sedge', 100],
];

describe('stock of the demo', () => {
  test.each(sizes)('%s holds %i keys or more, in files that others can read', (dialect, atLeast) => {
    const files = stockFiles(dialect);
    const keys = files.map((file) => readOutside(file).size);
    expect(Math.min(...keys)).toBeGreaterThan(0);
    expect(keys.reduce((sum, each) => sum + each, 0)).toBeGreaterThanOrEqual(atLeast);
  });
});
