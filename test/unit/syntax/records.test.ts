import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RecordChange, RecordSyntax, Style, Syntax, SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { json } from '../../../src/syntax/json/json.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

function treeOf(syntax: Syntax, text: string, style: Style): Tree {
  const { tree, findings } = syntax.parse({ name: 'records', text }, style);
  if (tree === undefined) throw new Error(findings[0]?.detail);
  return tree;
}
function recordsOf(syntax: Syntax): RecordSyntax {
  if (syntax.records === undefined) throw new Error('no records');
  return syntax.records;
}
function change(
  syntax: Syntax,
  text: string,
  at: string,
  changes: readonly RecordChange[],
  style: Style = {},
): { text: string; kinds: string[] } {
  const { edits, results } = recordsOf(syntax).change(treeOf(syntax, text, style), at, changes);
  return { text: applyEdits(text, edits), kinds: results.map((r) => (r.kind === 'refused' ? r.finding.code : r.kind)) };
}
function list(syntax: Syntax, text: string, at: string, fields: readonly string[]): Record<string, string>[] {
  return recordsOf(syntax)
    .list(treeOf(syntax, text, {}), at, fields)
    .map(({ fields: found }) => Object.fromEntries(found));
}
const put = (by: string, is: string, fields: Record<string, string | boolean> = {}): RecordChange => ({
  op: 'put',
  by,
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
const drop = (by: string, is: string): RecordChange => ({ op: 'drop', by, is });

describe('xml records', () => {
  const shelf =
    '<games>\n  <!-- the shelf -->\n  <game id="1">\n    <path>b.rom</path>\n    <loved>true</loved>\n  </game>\n  <game id="2"><path>d.rom</path></game>\n</games>\n';
  test('are listed with their fields', () => {
    expect(list(xml, shelf, '/games/game', ['path', '@id', 'loved'])).toEqual([
      { path: 'b.rom', '@id': '1', loved: 'true' },
      { path: 'd.rom', '@id': '2' },
    ]);
  });
  test('are found by a field, which sets the others', () => {
    expect(
      change(xml, shelf, '/games/game', [
        put('path', 'd.rom', { loved: 'true', '@id': '3' }),
        put('path', 'b.rom', { loved: 'true' }),
      ]),
    ).toEqual({
      text: shelf.replace(
        '<game id="2"><path>d.rom</path></game>',
        '<game id="3"><path>d.rom</path><loved>true</loved></game>',
      ),
      kinds: ['changed', 'unchanged'],
    });
  });
  test.each<[Style['siblings'] & string, string, string]>([
    ['end', '</game>\n</games>', '</game>\n  <game id="3">\n    <path>c.rom</path>\n  </game>\n</games>'],
    ['sorted', '  <game id="2">', '  <game id="3">\n    <path>c.rom</path>\n  </game>\n  <game id="2">'],
    ['start', '  <game id="1">', '  <game id="3">\n    <path>c.rom</path>\n  </game>\n  <game id="1">'],
  ])('go to the %s', (siblings, before, after) => {
    const there = change(xml, shelf, '/games/game', [put('path', 'c.rom', { '@id': '3' })], { siblings });
    expect(there).toEqual({ text: shelf.replace(before, after), kinds: ['changed'] });
    expect(change(xml, there.text, '/games/game', [drop('path', 'c.rom')]).text).toBe(shelf);
  });
  test('several in one call, missing parents made', () => {
    expect(
      change(xml, '<shelf/>\n', '/shelf/games/game', [
        put('@path', 'a', { loved: 'yes' }),
        put('@path', 'b'),
        drop('@path', 'b'),
        put('@path', 'c', { '.': 'x' }),
      ]),
    ).toEqual({
      text: '<shelf>\n  <games>\n    <game path="a">\n      <loved>yes</loved>\n    </game>\n    <game path="c">x</game>\n  </games></shelf>\n',
      kinds: ['changed', 'changed', 'changed', 'changed'],
    });
  });
  test('are refused whole', () => {
    expect(
      change(xml, shelf, '/games/game', [
        put('path', 'b.rom', { loved: 'no', 'loved/why': 'x' }),
        put('path', 'e', { loved: '\0' }),
        put('pa[th', 'e'),
        put('path', 'f', { 'path/x': 'y' }),
      ]),
    ).toEqual({
      text: shelf,
      kinds: ['key-not-determined', 'value-not-carried', 'bad-key-path', 'key-not-determined'],
    });
    const twice = '<g><a n="1"/><a n="1"/></g>';
    expect(change(xml, twice, '/g/a', [drop('@n', '1')]).kinds).toEqual(['key-ambiguous']);
    expect(change(xml, twice, '/g/a', [drop('@n', '1')], { duplicates: 'last' }).text).toBe('<g></g>');
    expect(change(xml, twice, '/g/a', [put('@n', '1', { '@m': '2' })], { duplicates: 'last' }).text).toBe(
      '<g><a n="1"/><a n="1" m="2"/></g>',
    );
  });
});

describe('json records', () => {
  const shelf =
    '{\n  "games": [ // the shelf\n    { "path": "b.rom", "loved": true },\n    { "path": "d.rom", "meta": { "hours": 3 } }\n  ]\n}\n';
  test('are listed with their fields', () => {
    expect(list(json, shelf, '/games', ['path', 'loved', 'meta/hours'])).toEqual([
      { path: 'b.rom', loved: 'true' },
      { path: 'd.rom', 'meta/hours': '3' },
    ]);
  });
  test('are found by a field, which sets the others', () => {
    expect(
      change(json, shelf, '/games', [put('path', 'd.rom', { loved: true }), put('path', 'b.rom', { loved: true })]),
    ).toEqual({
      text: shelf.replace('"hours": 3 } }', '"hours": 3 }, "loved": true }'),
      kinds: ['changed', 'unchanged'],
    });
  });
  test.each<[Style['siblings'] & string, string, string]>([
    ['end', '3 } }\n', '3 } },\n    { "path": "c.rom", "loved": true }\n'],
    ['sorted', '    { "path": "d', '    { "path": "c.rom", "loved": true },\n    { "path": "d'],
    ['start', '    { "path": "b', '    { "path": "c.rom", "loved": true },\n    { "path": "b'],
  ])('go to the %s', (siblings, before, after) => {
    const there = change(json, shelf, '/games', [put('path', 'c.rom', { loved: true })], { siblings });
    expect(there).toEqual({ text: shelf.replace(before, after), kinds: ['changed'] });
    expect(change(json, there.text, '/games', [drop('path', 'c.rom')]).text).toBe(shelf);
  });
  test('several in one call, missing parents made', () => {
    expect(
      change(json, '{}', '/shelf/games', [
        put('path', 'a', { loved: true }),
        put('path', 'b'),
        drop('path', 'b'),
        put('path', 'c'),
      ]),
    ).toEqual({
      text: '{\n  "shelf": {\n    "games": [\n      {\n        "path": "a",\n        "loved": true\n      },\n      {\n        "path": "c"\n      }\n    ]\n  }\n}',
      kinds: ['changed', 'unchanged', 'unchanged', 'changed'],
    });
    expect(change(json, '{}', '/games', [put('path', 'a'), drop('path', 'a'), drop('path', 'b')]).text).toBe('{}');
  });
  test('are refused whole', () => {
    expect(
      change(json, shelf, '/games', [
        put('path', 'b.rom', { loved: 'no', 'loved/why': 'x' }),
        put('path', 'd.rom', { loved: true, meta: 'x' }),
        put('pa~th', 'e'),
        put('path', 'b.rom', { new: 'x', 'path/x': 'y' }),
      ]),
    ).toEqual({
      text: shelf,
      kinds: ['key-not-determined', 'key-not-determined', 'bad-key-path', 'key-not-determined'],
    });
    const twice = '[{"n":1},{"n":1}]';
    expect(change(json, twice, '', [drop('n', '1')]).kinds).toEqual(['key-ambiguous']);
    expect(change(json, twice, '', [drop('n', '1')], { duplicates: 'last' }).text).toBe('[]');
    expect(change(json, '{"games": {"a": 1}}', '/games', [put('path', 'x')]).kinds).toEqual(['key-not-determined']);
  });
});

// Texts of records in many layouts; what is put can be listed, and dropping it gives the first bytes.
const blank = fc.constantFrom('', ' ', '\n', '\n  ', '\r\n\t', '\n\n ');
const ids = fc.uniqueArray(fc.constantFrom('a', 'b', 'c', 'd', 'e', 'é', '<&"'), { maxLength: 5 });
const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
const xmlShelf = fc
  .tuple(ids, blank, blank, blank, fc.boolean(), fc.constantFrom('', '<!-- c -->'))
  .map(([names, a, b, c, attribute, comment]) => ({
    syntax: xml,
    at: '/games/game',
    by: attribute ? '@path' : 'path',
    text:
      names.length === 0 && a === ''
        ? '<games/>'
        : `<games>${names.map((id) => `${a}${attribute ? `<game path="${escaped(id)}"/>` : `<game>${b}<path>${escaped(id)}</path>${b}</game>`}${comment}`).join('')}${c}</games>`,
  }));
const jsonShelf = fc
  .tuple(ids, blank, blank, blank, fc.boolean(), fc.constantFrom('', '/* c */', ' // c\n'))
  .map(([names, a, b, c, trailing, comment]) => ({
    syntax: json,
    at: '/games',
    by: 'path',
    text: `{"games": [${names.map((id, index) => `${a}{${b}"path": ${JSON.stringify(id)}${b}}${trailing || index < names.length - 1 ? ',' : ''}${comment}`).join('')}${c}]}`,
  }));

test('put then list, put then drop, put twice', () => {
  const siblings = fc.constantFrom<Style['siblings']>('end', 'start', 'sorted');
  fc.assert(
    fc.property(
      fc.oneof(xmlShelf, jsonShelf),
      fc.constantFrom('bb', 'new & <old>', 'a'),
      siblings,
      fc.string({ unit: fc.constantFrom('x', '"', '<', '\n', 'é'), maxLength: 4 }),
      ({ syntax, at, by, text }, is, order, hours) => {
        const style: Style = { siblings: order ?? 'end' };
        const before = list(syntax, text, at, [by, 'hours']);
        const wanted = [put(by, is, { hours })];
        const there = change(syntax, text, at, wanted, style);
        expect(there.kinds).toEqual(['changed']);
        const after = list(syntax, there.text, at, [by, 'hours']);
        expect(after.filter((record) => record[by] === is)).toEqual([{ [by]: is, hours }]);
        expect(after.filter((record) => record[by] !== is)).toEqual(before.filter((record) => record[by] !== is));
        expect(change(syntax, there.text, at, wanted, style)).toEqual({ text: there.text, kinds: ['unchanged'] });
        const gone = change(syntax, there.text, at, [drop(by, is)], style).text;
        if (before.every((record) => record[by] !== is)) expect(gone).toBe(text);
        else expect(list(syntax, gone, at, [by])).toEqual(before.filter((record) => record[by] !== is));
      },
    ),
    { numRuns: runs },
  );
});
