import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { syntaxes } from '../../../src/syntax/registry.ts';
import type { RecordChange, SyntaxName } from '../../../src/syntax/contract.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

/** A file with one record each, and how it names its records. */
const files: readonly { syntax: SyntaxName; at: string; by: string; field: string; text: string }[] = [
  {
    syntax: 'json',
    at: '/volumes',
    by: 'leaf',
    field: 'loved',
    text: '{\n  "volumes": [\n    { "leaf": "b/one.leaf", "trips": 3 }\n  ]\n}\n',
  },
  {
    syntax: 'xml',
    at: '/quay/boat',
    by: 'load',
    field: 'loved',
    text: '<quay>\n  <!-- kept -->\n  <boat>\n    <load>b/one.leaf</load>\n  </boat>\n</quay>\n',
  },
  {
    syntax: 'toml',
    at: 'volumes',
    by: 'leaf',
    field: 'loved',
    text: '# kept\n[[volumes]]\nleaf = "b/one.leaf"\ntrips = 3\n',
  },
  {
    syntax: 'yaml',
    at: 'volumes',
    by: 'leaf',
    field: 'loved',
    text: '# kept\nvolumes:\n  - leaf: b/one.leaf\n    trips: 3\n',
  },
];

function changed(file: (typeof files)[number], text: string, changes: readonly RecordChange[]): string {
  const syntax = syntaxes[file.syntax];
  const { tree } = syntax.parse({ name: 'shelf', text }, {});
  if (tree === undefined || syntax.records === undefined) throw new Error(`${file.syntax} has no records`);
  const made = syntax.records.change(tree, file.at, changes);
  expect(made.results.filter(({ kind }) => kind === 'refused')).toEqual([]);
  return applyEdits(text, made.edits);
}

describe.each(files)('records in $syntax', (file) => {
  it('are listed when put, and leave the first bytes when dropped', () => {
    const name = fc.stringMatching(/^[a-z]{1,8}( [a-z]{1,8})?\.leaf$/).map((leaf) => `a/${leaf}`);
    fc.assert(
      fc.property(fc.uniqueArray(name, { minLength: 1, maxLength: 6 }), (names) => {
        const text = changed(
          file,
          file.text,
          names.map((is) => ({
            op: 'put',
            by: file.by,
            is,
            fields: new Map([[file.field, { kind: 'scalar', text: 'aye' }]]),
          })),
        );
        const { tree } = syntaxes[file.syntax].parse({ name: 'shelf', text }, {});
        const listed =
          tree === undefined ? [] : (syntaxes[file.syntax].records?.list(tree, file.at, [file.by, file.field]) ?? []);
        expect(listed.map(({ fields }) => fields.get(file.by))).toEqual(['b/one.leaf', ...names]);
        expect(listed.slice(1).map(({ fields }) => fields.get(file.field))).toEqual(names.map(() => 'aye'));
        expect(
          changed(
            file,
            text,
            names.map((is) => ({ op: 'drop', by: file.by, is })),
          ),
        ).toBe(file.text);
      }),
      { numRuns: runs },
    );
  });
});

describe('the records of the demo', () => {
  // jq is a reader of RFC 8259 that is none of ours.
  const jq = (path: string, filter: string): unknown =>
    JSON.parse(execFileSync('jq', ['-c', filter, path], { encoding: 'utf8' }));
  const built = 'out/tarn/games/sill/shelf.json';
  const stock = 'profiles/dialects/sill/stock/4.0.2/shelf.json';

  it('say to jq what the profile lists', () => {
    expect(jq(built, '[.volumes[] | select(.loved) | .leaf]')).toEqual([
      'burdock/marsh-walk.leaf',
      'burdock/reed-song.leaf',
    ]);
    expect(jq(built, '[.volumes[] | select(.bundles["rainy-day"] == "kept") | .leaf]')).toEqual([
      'orrery/tin-comet.brass',
      'burdock/reed-song.leaf',
    ]);
    expect(jq(built, '[.volumes[] | select(."put-away") | .leaf]')).toEqual(['lathe/test-disc.sheet']);
    expect(jq(built, '[.doors[] | select(.shut) | .row]')).toEqual(['ferrule']);
  });

  it('are given what identifies them when new, and keep every other member when not', () => {
    expect(jq(built, '.volumes[3] | .row')).toBe('burdock');
    expect(jq(built, '[.volumes[:3][] | [.leaf, .row, .title, .trips]]')).toEqual(
      jq(stock, '[.volumes[] | [.leaf, .row, .title, .trips]]'),
    );
  });
});
