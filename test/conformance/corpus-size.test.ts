// How many real general-purpose files the corpus tests can have on this machine: at least 300 over all syntaxes, with what
// `.ci/run` installs and the npm packages here. They lie in Debian's folders and in node_modules; no other place is read.
import { describe, expect, it } from 'vitest';
import type { Style, SyntaxName } from '../../src/syntax/contract.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import { decodeBytes, encodeText } from '../../src/text/encoding.ts';
import { corpus } from '../support/corpus.ts';
import { realFiles } from '../support/syntax/real-files.ts';

interface Kind {
  readonly syntax: SyntaxName;
  readonly style: Style;
  readonly files: () => readonly { readonly path: string; readonly text: string }[];
}

const kinds: readonly Kind[] = [
  { syntax: 'json', style: {}, files: () => realFiles(/^(?:package|tsconfig.*|composer|bower)\.json$/, 250, 2) },
  { syntax: 'yaml', style: {}, files: () => realFiles(/\.ya?ml$/, 60, 4) },
  { syntax: 'toml', style: {}, files: () => realFiles(/\.toml$/, 40, 4) },
  { syntax: 'xml', style: {}, files: () => corpus(['.xml'], 150) },
  { syntax: 'ini', style: { comment: ['#', ';'] }, files: () => corpus(['.ini', '.desktop', '.service', '.cfg'], 150) },
  { syntax: 'pairs', style: {}, files: () => corpus(['.conf', '.env'], 100) },
  { syntax: 'properties', style: {}, files: () => corpus(['.properties'], 50) },
  {
    syntax: 'lines',
    style: {},
    files: () => realFiles(/^\.(?:npmignore|gitignore|nycrc|eslintignore)$|\.list$/, 50, 4),
  },
];

describe('the corpus of real files', () => {
  it('has at least 300 that are read and kept byte for byte', () => {
    const counts: [SyntaxName, number][] = kinds.map(({ syntax, style, files }) => {
      const read = files().filter(({ path, text }) => {
        const { tree } = syntaxes[syntax].parse({ name: path, text }, style);
        if (tree === undefined) return false;
        expect(syntaxes[syntax].change(tree, []).edits).toEqual([]);
        expect(decodeBytes(encodeText(tree.source.text))).toBe(text);
        return true;
      });
      for (const { path } of read) expect(path).toMatch(/^(?:node_modules|\/etc|\/usr\/share|\/usr\/lib)\//);
      return [syntax, read.length];
    });
    const total = counts.reduce((sum, [, count]) => sum + count, 0);
    console.log(`${total} real files: ${counts.map(([syntax, count]) => `${syntax} ${count}`).join(', ')}`);
    expect(total).toBeGreaterThanOrEqual(300);
  });
});
