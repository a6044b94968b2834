import { describe, expect, it } from 'vitest';
import type { RecordChange, Style, Syntax, SyntaxValue } from '../../../src/syntax/contract.ts';
import { toml } from '../../../src/syntax/toml/toml.ts';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const put = (is: string, fields: Record<string, string | boolean> = {}): RecordChange => ({
  op: 'put',
  by: 'path',
  is,
  fields: new Map(
    Object.entries(fields).map(([name, value]): [string, SyntaxValue] => [
      name,
      typeof value === 'string'
        ? { kind: 'scalar', text: value }
        : { kind: 'scalar', text: String(value), literal: true },
    ]),
  ),
});
const drop = (is: string): RecordChange => ({ op: 'drop', by: 'path', is });

function changed(
  syntax: Syntax,
  text: string,
  at: string,
  changes: readonly RecordChange[],
  style: Style = {},
): string {
  const { tree } = syntax.parse({ name: 'text', text }, style);
  if (tree === undefined || syntax.records === undefined) throw new Error('unreadable');
  const { edits, results } = syntax.records.change(tree, at, changes);
  const refused = results.find((result) => result.kind === 'refused');
  return refused?.kind === 'refused' ? `refused: ${refused.finding.code}` : applyEdits(text, edits);
}

const shelf =
  '# shelf\n[[game]]\npath = "b" # best\nloved = true\n\n[game.seen]\ntimes = 2\n\n[[game]]\npath = "d"\n\n[other]\nx = 1\n';
const shelfYaml = '# shelf\ngames:\n  - path: b # best\n    loved: true\n  - path: d\nother: 1\n';

describe('records of TOML', () => {
  it.each<[string, string, RecordChange[], string, Style?]>([
    ['sets a field', shelf, [put('b', { loved: false })], shelf.replace('loved = true', 'loved = false')],
    ['adds a field', shelf, [put('d', { loved: true })], shelf.replace('path = "d"\n', 'path = "d"\nloved = true\n')],
    ['changes nothing', shelf, [put('b', { loved: true })], shelf],
    [
      'adds at the end',
      shelf,
      [put('c', { loved: true })],
      shelf.replace('\n[other]', '\n[[game]]\npath = "c"\nloved = true\n\n[other]'),
    ],
    [
      'adds at the start',
      shelf,
      [put('c')],
      shelf.replace('# shelf', '[[game]]\npath = "c"\n\n# shelf'),
      { siblings: 'start' },
    ],
    [
      'adds in order',
      shelf,
      [put('c')],
      shelf.replace('[[game]]\npath = "d"', '[[game]]\npath = "c"\n\n[[game]]\npath = "d"'),
      { siblings: 'sorted' },
    ],
    ['drops one with its tables', shelf, [drop('b')], '# shelf\n\n[[game]]\npath = "d"\n\n[other]\nx = 1\n'],
    ['drops the last', shelf, [drop('d')], shelf.replace('\n[[game]]\npath = "d"\n', '')],
    ['drops what is not there', shelf, [drop('x')], shelf],
    [
      'the first record of all',
      'a = 1\n',
      [put('c'), put('d', { n: '1' })],
      'a = 1\n\n[[game]]\npath = "c"\n\n[[game]]\npath = "d"\nn = "1"\n',
    ],
    [
      'in brackets',
      'game = [{ path = "b" }]\n',
      [put('c', { loved: true })],
      'game = [{ path = "b" }, { path = "c", loved = true }]\n',
    ],
    ['drops in brackets', 'game = [{ path = "b" }, { path = "c" }]\n', [drop('b')], 'game = [{ path = "c" }]\n'],
    ['drops and adds in brackets', 'game = [{ path = "b" }]\n', [drop('b'), put('c')], 'game = [{ path = "c" }]\n'],
    ['two puts of one', '', [put('c', { a: 'x' }), put('c', { b: 'w' })], '[[game]]\npath = "c"\na = "x"\nb = "w"\n'],
    ['a value in the way', 'game = 1\n', [put('c')], 'refused: key-not-determined'],
  ])('%s', (_, text, changes, expected, style) => {
    expect(changed(toml, text, 'game', changes, style)).toBe(expected);
  });

  it('lists them with their fields', () => {
    const { tree } = toml.parse({ name: 'text', text: shelf }, {});
    if (tree === undefined) throw new Error('unreadable');
    const places = toml.records?.list(tree, 'game', ['path', 'seen.times', 'gone']) ?? [];
    expect(places.map((place) => [...place.fields])).toEqual([
      [
        ['path', 'b'],
        ['seen.times', '2'],
      ],
      [['path', 'd']],
    ]);
    expect(shelf.slice(places[1]?.span.start, places[1]?.span.end)).toBe('[[game]]\npath = "d"\n');
  });
});

describe('records of YAML', () => {
  it.each<[string, string, RecordChange[], string, Style?]>([
    ['sets a field', shelfYaml, [put('b', { loved: false })], shelfYaml.replace('loved: true', 'loved: false')],
    [
      'adds a field',
      shelfYaml,
      [put('d', { loved: true })],
      shelfYaml.replace('path: d\n', 'path: d\n    loved: true\n'),
    ],
    ['changes nothing', shelfYaml, [put('b', { loved: true })], shelfYaml],
    [
      'adds at the end',
      shelfYaml,
      [put('c', { loved: true })],
      shelfYaml.replace('other', '  - path: c\n    loved: true\nother'),
    ],
    [
      'adds at the start',
      shelfYaml,
      [put('c')],
      shelfYaml.replace('  - path: b', '  - path: c\n  - path: b'),
      { siblings: 'start' },
    ],
    [
      'adds in order',
      shelfYaml,
      [put('c')],
      shelfYaml.replace('  - path: d', '  - path: c\n  - path: d'),
      { siblings: 'sorted' },
    ],
    ['drops one', shelfYaml, [drop('b')], '# shelf\ngames:\n  - path: d\nother: 1\n'],
    ['drops all', shelfYaml, [drop('b'), drop('d')], '# shelf\nother: 1\n'],
    ['drops and adds', 'games:\n- path: b\n', [drop('b'), put('c')], 'games:\n- path: c\n'],
    [
      'the first record of all',
      'a: 1\n',
      [put('c'), put('d', { m: '1' })],
      'a: 1\ngames:\n  - path: c\n  - path: d\n    m: "1"\n',
    ],
    ['below an empty key', 'games:\na: 1\n', [put('c')], 'games:\n  - path: c\na: 1\n'],
    [
      'in brackets',
      'games: [{ path: b }]\n',
      [put('c', { loved: true })],
      'games: [{ path: b }, { path: c, loved: true }]\n',
    ],
    ['drops in brackets', 'games: [{ path: b }, { path: c }]\n', [drop('b')], 'games: [{ path: c }]\n'],
    [
      'a nested field',
      'games: []\n',
      [put('c', { 'seen.times': '2' })],
      'games: [{ path: c, seen: { times: "2" } }]\n',
    ],
    ['a value in the way', 'games: x\n', [put('c')], 'refused: key-not-determined'],
  ])('%s', (_, text, changes, expected, style) => {
    expect(changed(yaml, text, 'games', changes, style)).toBe(expected);
  });
});
