import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { RecordChange, SyntaxName, SyntaxValue } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

type Fields = Readonly<Record<string, string | undefined>>;

function put(by: string, is: string, fields: Fields): RecordChange {
  return {
    op: 'put',
    by,
    is,
    fields: new Map(
      Object.entries(fields).map(([name, text]): [string, SyntaxValue | undefined] => [
        name,
        text === undefined ? undefined : { kind: 'scalar', text },
      ]),
    ),
  };
}

function changed(name: SyntaxName, text: string, at: string, changes: readonly RecordChange[]): string {
  const syntax = syntaxes[name];
  const { tree } = syntax.parse({ name: 'shelf', text }, {});
  if (tree === undefined || syntax.records === undefined) throw new Error(`${name} has no records`);
  const { edits, results } = syntax.records.change(tree, at, changes);
  expect(results.filter(({ kind }) => kind === 'refused')).toEqual([]);
  return applyEdits(text, edits);
}

describe('a field given no value', () => {
  it.each<[string, SyntaxName, string, string, string, Fields, string]>([
    [
      'an element',
      'xml',
      '/q/b',
      'load',
      '<q>\n  <b>\n    <load>a</load>\n    <loved>aye</loved>\n  </b>\n</q>\n',
      { loved: undefined },
      '<q>\n  <b>\n    <load>a</load>\n  </b>\n</q>\n',
    ],
    [
      'an attribute',
      'xml',
      '/q/b',
      '@n',
      '<q><b n="a" loved="aye"/></q>',
      { '@loved': undefined },
      '<q><b n="a"/></q>',
    ],
    ['its own text', 'xml', '/q/b', '@n', '<q><b n="a">aye</b></q>', { '.': undefined }, '<q><b n="a"></b></q>'],
    [
      'one of nested elements',
      'xml',
      '/q/b',
      '@n',
      '<q><b n="a"><m><x>1</x><y>2</y></m></b></q>',
      { 'm/x': undefined },
      '<q><b n="a"><m><y>2</y></m></b></q>',
    ],
    [
      'a member',
      'json',
      '/v',
      'leaf',
      '{"v": [{"leaf": "a", "loved": true, "n": 1}]}',
      { loved: undefined },
      '{"v": [{"leaf": "a", "n": 1}]}',
    ],
    [
      'a nested member',
      'json',
      '/v',
      'leaf',
      '{"v": [{"leaf": "a", "in": {"x": 1, "y": 2}}]}',
      { 'in/x': undefined },
      '{"v": [{"leaf": "a", "in": {"y": 2}}]}',
    ],
    [
      'a member below a value',
      'json',
      '/v',
      'leaf',
      '{"v": [{"leaf": "a", "in": 3}]}',
      { 'in/x': undefined },
      '{"v": [{"leaf": "a", "in": 3}]}',
    ],
    [
      'a key',
      'toml',
      'v',
      'leaf',
      '[[v]]\nleaf = "a"\nloved = true\nn = 1\n',
      { loved: undefined },
      '[[v]]\nleaf = "a"\nn = 1\n',
    ],
    [
      'a key in braces',
      'toml',
      'v',
      'leaf',
      'v = [{ leaf = "a", loved = true }]\n',
      { loved: undefined },
      'v = [{ leaf = "a" }]\n',
    ],
    [
      'a pair',
      'yaml',
      'v',
      'leaf',
      'v:\n  - leaf: a\n    loved: true\n    n: 1\n',
      { loved: undefined },
      'v:\n  - leaf: a\n    n: 1\n',
    ],
    [
      'one taken out, one set',
      'yaml',
      'v',
      'leaf',
      'v:\n  - leaf: a\n    loved: true\n    n: 1\n',
      { loved: undefined, n: 'x' },
      'v:\n  - leaf: a\n    n: x\n',
    ],
    [
      'what is not there',
      'json',
      '/v',
      'leaf',
      '{"v": [{"leaf": "a"}]}',
      { loved: undefined },
      '{"v": [{"leaf": "a"}]}',
    ],
    [
      'a new record is given what has a value',
      'json',
      '/v',
      'leaf',
      '{"v": []}',
      { loved: undefined, n: 'x' },
      '{"v": [{"leaf": "a", "n": "x"}]}',
    ],
  ])('%s (%s)', (_, name, at, by, text, fields, expected) => {
    expect(changed(name, text, at, [put(by, 'a', fields)])).toBe(expected);
  });

  it.each<[SyntaxName, string, string]>([
    ['json', '/v', '{"v": [{"leaf": "a"}]}'],
    ['xml', '/q/b', '<q><b><leaf>a</leaf></b></q>'],
    ['toml', 'v', '[[v]]\nleaf = "a"\n'],
    ['yaml', 'v', 'v:\n  - leaf: a\n'],
  ])('adds no record (%s)', (name, at, text) => {
    expect(changed(name, text, at, [put('leaf', 'other', { loved: undefined })])).toBe(text);
  });

  // Setting a field that was not there and taking it out again gives the first bytes.
  it.each<[SyntaxName, string, (names: readonly string[]) => string]>([
    [
      'json',
      '/v',
      (names) => `{\n  "v": [\n${names.map((name) => `    { "leaf": "${name}", "n": 1 }`).join(',\n')}\n  ]\n}\n`,
    ],
    [
      'xml',
      '/q/b',
      (names) => `<q>\n${names.map((name) => `  <b>\n    <leaf>${name}</leaf>\n  </b>\n`).join('')}</q>\n`,
    ],
    ['toml', 'v', (names) => names.map((name) => `[[v]]\nleaf = "${name}"\n`).join('\n')],
    ['yaml', 'v', (names) => `v:\n${names.map((name) => `  - leaf: ${name}\n    n: 1\n`).join('')}`],
  ])('undoes a set (%s)', (name, at, shelf) => {
    const names = fc.uniqueArray(fc.constantFrom('ash', 'beech', 'cedar', 'elm', 'fir'), { minLength: 1 });
    const some = names.chain((all) => fc.tuple(fc.constant(all), fc.subarray([...all], { minLength: 1 })));
    fc.assert(
      fc.property(some, ([all, marked]) => {
        const text = shelf(all);
        const set = changed(
          name,
          text,
          at,
          marked.map((is) => put('leaf', is, { loved: 'aye' })),
        );
        expect(set).not.toBe(text);
        expect(
          changed(
            name,
            set,
            at,
            marked.map((is) => put('leaf', is, { loved: undefined })),
          ),
        ).toBe(text);
      }),
      { numRuns: runs },
    );
  });

  it('is gone to jq and xmllint, and nothing else is', () => {
    const json = changed(
      'json',
      '{"v": [{"leaf": "a", "loved": true, "n": [1, 2]}, {"leaf": "b", "loved": true}]}',
      '/v',
      [put('leaf', 'a', { loved: undefined })],
    );
    expect(JSON.parse(execFileSync('jq', ['-c', '.'], { input: json, encoding: 'utf8' }))).toEqual({
      v: [
        { leaf: 'a', n: [1, 2] },
        { leaf: 'b', loved: true },
      ],
    });
    const xml = changed('xml', '<q><b n="a"><loved>aye</loved><x/></b><b n="b"><loved>aye</loved></b></q>', '/q/b', [
      put('@n', 'a', { loved: undefined }),
    ]);
    expect(
      execFileSync('xmllint', ['--xpath', 'concat(count(//loved), count(//b[@n="a"]/*))', '-'], {
        input: xml,
        encoding: 'utf8',
      }).trim(),
    ).toBe('11');
  });
});
