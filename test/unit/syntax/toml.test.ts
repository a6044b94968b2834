import { describe, expect, it } from 'vitest';
import { toml } from '../../../src/syntax/toml/toml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { Change, SyntaxValue } from '../../../src/syntax/contract.ts';

const text = (value: string): SyntaxValue => ({ kind: 'scalar', text: value });
const bare = (value: string): SyntaxValue => ({ kind: 'scalar', text: value, literal: true });
const list = (...items: string[]): SyntaxValue => ({
  kind: 'list',
  items: items.map((item) => ({ text: item, literal: true })),
});

function changed(source: string, ...changes: Change[]): string {
  const parsed = toml.parse({ name: 'a.toml', text: source }, {});
  if (parsed.tree === undefined) throw new Error(`unreadable: ${parsed.findings[0]?.detail}`);
  const { edits, results } = toml.change(parsed.tree, changes);
  for (const result of results) if (result.kind === 'refused') return `refused: ${result.finding.code}`;
  return applyEdits(source, edits);
}
const set = (path: string, value: SyntaxValue): Change => ({ op: 'set', path, value });
const remove = (path: string): Change => ({ op: 'remove', path });

describe('toml edits', () => {
  it.each([
    ['a value', 'a = 1 # x\n', [set('a', bare('2'))], 'a = 2 # x\n'],
    [
      'the same value otherwise spelled',
      'a = 0x10\nb=1_000\n',
      [set('a', bare('16')), set('b', bare('1000'))],
      'a = 0x10\nb=1_000\n',
    ],
    ['literal quotes are kept', "p = 'C:\\x'\n", [set('p', text('D:\\y'))], "p = 'D:\\y'\n"],
    ['literal quotes cannot carry it', "p = 'x'\n", [set('p', text("it's"))], 'p = "it\'s"\n'],
    ['a text that looks like a number', 'a = 1\n', [set('a', text('1'))], 'a = "1"\n'],
    [
      'a new key in its table',
      '[s]\na = 1 # c\n\n[s.t]\nb = 2\n',
      [set('s.c', bare('true'))],
      '[s]\na = 1 # c\nc = true\n\n[s.t]\nb = 2\n',
    ],
    ['a new table', 'a = 1\n', [set('s.c', bare('true')), set('s.d', text('x'))], 'a = 1\n\n[s]\nc = true\nd = "x"\n'],
    [
      'a new table where none is parted',
      '[a]\nx = 1\n[b]\nx = 1\n',
      [set('s.c', bare('true'))],
      '[a]\nx = 1\n[b]\nx = 1\n[s]\nc = true\n',
    ],
    ['a new table, no last line end', 'a = 1', [set('s.c', bare('true'))], 'a = 1\n\n[s]\nc = true'],
    [
      'a new root key above tables',
      '# top\n\n[s]\na = 1\n',
      [set('c', bare('true'))],
      '# top\nc = true\n\n[s]\na = 1\n',
    ],
    ['a new root key at the start', '[s]\na = 1\n', [set('c', bare('true'))], 'c = true\n\n[s]\na = 1\n'],
    ['into an inline table', 'p = { x = 1 }\n', [set('p.y', bare('2'))], 'p = { x = 1, y = 2 }\n'],
    ['deeper into an inline table', 'p = {}\n', [set('p.y.z', bare('2'))], 'p = {y.z = 2}\n'],
    ['beside a dotted key', 'p.x = 1\n[q]\n', [set('p.y', bare('2'))], 'p.x = 1\np.y = 2\n[q]\n'],
    ['dotted as the neighbours', 'p.x = 1\n', [set('q.y', bare('2'))], 'p.x = 1\nq.y = 2\n'],
    [
      'an item of an array of tables',
      '[[g]]\np = "a"\n[[g]]\np = "b"\n',
      [set('g[0].q', text('x'))],
      '[[g]]\np = "a"\nq = "x"\n[[g]]\np = "b"\n',
    ],
    [
      'a table in an item',
      '[[g]]\np = "a"\n\n[[g]]\np = "b"\n',
      [set('g[0].q.r', text('x'))],
      '[[g]]\np = "a"\n\n[g.q]\nr = "x"\n\n[[g]]\np = "b"\n',
    ],
    ['a list', 'l = [1, 2, 3]\n', [set('l', list('1', '3'))], 'l = [1, 3]\n'],
    [
      'a list on lines',
      'l = [\n  1, # one\n  2\n]\n',
      [set('l', list('1', '2', '3'))],
      'l = [\n  1, # one\n  2,\n  3\n]\n',
    ],
    ['a shorter list on lines', 'l = [\n  1, # one\n  2\n]\n', [set('l', list('1'))], 'l = [\n  1 # one\n]\n'],
    ['one item', 'l = [1, 2]\n', [set('l[1]', bare('9'))], 'l = [1, 9]\n'],
    ['removes a key', 'a = 1\nb = 2\n', [remove('a')], 'b = 2\n'],
    ['removes the last key, no last line end', 'a = 1\nb = 2', [remove('b')], 'a = 1'],
    ['removes all keys', 'a = 1\nb = 2', [remove('b'), remove('a')], ''],
    ['removes an emptied table', 'a = 1\n\n[s]\nc = true\n', [remove('s.c')], 'a = 1\n'],
    ['keeps a table that holds a comment', '[s]\n# why\nc = true\n', [remove('s.c')], '[s]\n# why\n'],
    ['removes from an inline table', 'p = { x = 1, y = 2 }\n', [remove('p.x')], 'p = { y = 2 }\n'],
    ['CRLF', 'a = 1\r\n', [set('b', bare('2'))], 'a = 1\r\nb = 2\r\n'],
    ['a byte-order mark', '\ufeff[s]\r\na = 1\r\n', [set('c', bare('2'))], '\ufeffc = 2\r\n\r\n[s]\r\na = 1\r\n'],
    ['a table is no value', '[s]\na = 1\n', [set('s', bare('2'))], 'refused: key-holds-keys'],
    ['no null', 'a = 1\n', [set('a', bare('null'))], 'refused: value-not-carried'],
    ['an item that is not there', '[[g]]\np = "a"\n', [set('g[1].p', bare('2'))], 'refused: key-not-determined'],
    ['a key and one inside it', '', [set('a', bare('1')), set('a.b', bare('2'))], 'refused: changes-collide'],
    ['the last of two counts', 'a = 1\n', [set('a', bare('2')), set('a', bare('3'))], 'a = 3\n'],
    ['odd names', '', [set('"odd key".x', text('"'))], '["odd key"]\nx = "\\""\n'],
  ])('%s', (_, source, changes, expected) => {
    expect(changed(source, ...changes)).toBe(expected);
  });
});
