// The examples of the design's files.md, which continuous integration has beside the checkout, are excerpts of the demo.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';

const root = new URL('../../..', import.meta.url).pathname;
const design = join(root, '../shared/design/files.md');

/** By the first key of a block, where the demo keeps such a file. */
const places: Readonly<Record<string, (name: string) => string>> = {
  profile: (name) => `profiles/${name}.yaml`,
  house: () => 'profiles/house.yaml',
  dialect: (name) => `profiles/dialects/${name}.yaml`,
  catalog: (name) => `profiles/catalogs/${name}.yaml`,
};

/** Lines without comments, with white space folded, and without those that are then empty. */
function bareLines(text: string): readonly string[] {
  return text
    .split('\n')
    .map((line) =>
      line
        .replace(/^((?:"[^"]*"|'[^']*'|[^"'#])*)#.*$/, '$1')
        .replace(/\s+/g, ' ')
        .trim(),
    )
    .filter((line) => line !== '');
}

interface Example {
  readonly file: string;
  readonly lines: readonly string[];
}

function examplesOf(text: string): readonly Example[] {
  return [...text.matchAll(/```yaml\n([\s\S]*?)```/g)].map(([, block]) => {
    const lines = bareLines(block ?? '');
    const [, kind, name] = /^(\w+): (\S+)$/.exec(lines[0] ?? '') ?? [];
    const place = places[kind ?? ''];
    if (place === undefined || name === undefined)
      throw new Error(`An example begins with “${lines[0] ?? ''}”, which names no file of the demo.`);
    return { file: place(name), lines };
  });
}

/** The lines that are not found in the file, each looked for behind the one before. */
function missingFrom(file: string, lines: readonly string[]): readonly string[] {
  const have = bareLines(readFileSync(join(root, file), 'utf8'));
  let from = 0;
  return lines.filter((line) => {
    const at = have.indexOf(line, from);
    if (at >= 0) from = at + 1;
    return at < 0;
  });
}

describe.skipIf(!existsSync(design))(
  'the examples of ../shared/design/files.md (skipped where that file is not at hand)',
  () => {
    const examples = existsSync(design) ? examplesOf(readFileSync(design, 'utf8')) : [];

    test('there is one of each kind of file, and two dialects', () => {
      expect(examples.map(({ file }) => file)).toEqual([
        'profiles/fen.yaml',
        'profiles/house.yaml',
        'profiles/dialects/harrow.yaml',
        'profiles/dialects/sedge.yaml',
        'profiles/catalogs/shelf.yaml',
      ]);
    });

    test.each(examples)('$file', ({ file, lines }) => {
      expect(lines.length).toBeGreaterThan(10);
      expect(missingFrom(file, lines)).toEqual([]);
    });
  },
);
