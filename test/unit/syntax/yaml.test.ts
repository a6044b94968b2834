import { describe, expect, it } from 'vitest';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { Change, SyntaxValue } from '../../../src/syntax/contract.ts';

const text = (value: string): SyntaxValue => ({ kind: 'scalar', text: value });
const bare = (value: string): SyntaxValue => ({ kind: 'scalar', text: value, literal: true });
const list = (...items: string[]): SyntaxValue => ({ kind: 'list', items: items.map((item) => ({ text: item })) });

function changed(source: string, ...changes: Change[]): string {
  const parsed = yaml.parse({ name: 'a.yaml', text: source }, {});
  if (parsed.tree === undefined) throw new Error(`unreadable: ${parsed.findings[0]?.detail}`);
  const { edits, results } = yaml.change(parsed.tree, changes);
  for (const result of results) if (result.kind === 'refused') return `refused: ${result.finding.code}`;
  return applyEdits(source, edits);
}
const set = (path: string, value: SyntaxValue): Change => ({ op: 'set', path, value });
const remove = (path: string): Change => ({ op: 'remove', path });

describe('yaml edits', () => {
  it.each<[string, string, Change[], string]>([
    ['a value', 'a: x # c\n', [set('a', text('w'))], 'a: w # c\n'],
    ['quotes are kept', 'a: \'x\'\nb: "x"\n', [set('a', text("it's")), set('b', text('y'))], "a: 'it''s'\nb: \"y\"\n"],
    ['a string that reads otherwise', 'a: x\n', [set('a', text('true'))], 'a: "true"\n'],
    ['a string that YAML 1.1 reads otherwise', 'a: x\n', [set('a', text('on'))], 'a: "on"\n'],
    ['a bare value', 'a: "1"\n', [set('a', bare('1'))], 'a: 1\n'],
    [
      'the same value otherwise spelled',
      'a: 0x10\nb: ~\nc:\n',
      [set('a', bare('16')), set('b', bare('null')), set('c', bare('null'))],
      'a: 0x10\nb: ~\nc:\n',
    ],
    ['into an empty value', 'a: # c\n', [set('a', text('x'))], 'a: x # c\n'],
    ['a new key', 'a:\n    b: 1\nc: 2\n', [set('a.d', bare('3'))], 'a:\n    b: 1\n    d: 3\nc: 2\n'],
    [
      'a new group in the same indent',
      'a:\n    b: 1\n',
      [set('x.w.z', bare('3'))],
      'a:\n    b: 1\nx:\n    w:\n        z: 3\n',
    ],
    ['under an empty key', 'a:\nb: 1\n', [set('a.x', bare('3'))], 'a:\n  x: 3\nb: 1\n'],
    ['in a flow mapping', 'a: { b: 1 }\n', [set('a.c', bare('2'))], 'a: { b: 1, c: 2 }\n'],
    ['in an item', '- a: 1\n  b: 2\n- a: 3\n', [set('[1].b', bare('4'))], '- a: 1\n  b: 2\n- a: 3\n  b: 4\n'],
    ['an empty text', '', [set('a.b', bare('4')), set('a.c', text('x'))], 'a:\n  b: 4\n  c: x\n'],
    ['only comments', '# top\n', [set('a', bare('4'))], '# top\na: 4\n'],
    ['before a document end', 'a: 1\n...\n', [set('b', bare('4'))], 'a: 1\nb: 4\n...\n'],
    ['no last line end', 'a: 1', [set('b', bare('4'))], 'a: 1\nb: 4'],
    ['a block list', 'l:\n  - a # one\n  - b\n', [set('l', list('a', 'c', 'd'))], 'l:\n  - a # one\n  - c\n  - d\n'],
    ['a shorter block list', 'l:\n- a\n- b\nm: 1\n', [set('l', list('b'))], 'l:\n- b\nm: 1\n'],
    ['an empty block list', 'l:\n- a\n- b\nm: 1\n', [set('l', list())], 'l: []\nm: 1\n'],
    ['a flow list', 'l: [a, b]\n', [set('l', list('a', 'x', 'b'))], 'l: [a, x, b]\n'],
    ['a block scalar', 'l: |\n  a\n  b\n\nm: 1\n', [set('l', text('x\ny\n'))], 'l: |\n  x\n  y\n\nm: 1\n'],
    ['a block scalar to a word', 'l: |\n  a\n  b\n\nm: 1\n', [set('l', text('x'))], 'l: |-\n  x\n\nm: 1\n'],
    ['an anchor without aliases', 'a: &x 1\n', [set('a', bare('2'))], 'a: &x 2\n'],
    ['an alias is replaced', 'a: &x 1\nb: *x\n', [set('b', bare('2'))], 'a: &x 1\nb: 2\n'],
    ['what an alias names is not', 'a: &x 1\nb: *x\n', [set('a', bare('2'))], 'refused: shared-by-alias'],
    ['nor through an alias', 'a: &x { c: 1 }\nb: *x\n', [set('b.c', bare('2'))], 'refused: shared-by-alias'],
    ['a tag goes', 'a: !!str 1\n', [set('a', bare('2'))], 'a: 2\n'],
    ['removes a key', 'a: 1\nb: 2\n', [remove('a')], 'b: 2\n'],
    ['removes the first key of an item', '- a: 1\n  b: 2\n', [remove('[0].a')], '- b: 2\n'],
    ['removes the only key of an item', '- a: 1\n', [remove('[0].a')], '- {}\n'],
    ['removes an emptied group', 'x: 1\na:\n  b:\n    c: 1\n', [remove('a.b.c')], 'x: 1\n'],
    ['keeps a group that holds a comment', 'a:\n  # why\n  b: 1\n', [remove('a.b')], 'a: {}\n  # why\n'],
    ['removes from a flow mapping', 'a: { b: 1, c: 2 }\n', [remove('a.c')], 'a: { b: 1 }\n'],
    ['a document of one value', '--- x\n', [set('.', text('w'))], '--- w\n'],
    ['several documents', 'a: 1\n---\na: 2\n', [set('a', text('y'))], 'refused: several-documents'],
    ['a name that stands twice', 'a: 1\na: 2\n', [set('a', text('y'))], 'refused: key-ambiguous'],
    ['CRLF', 'a:\r\n  b: 1\r\n', [set('a.c', bare('2'))], 'a:\r\n  b: 1\r\n  c: 2\r\n'],
    [
      'odd names',
      'a: 1\n',
      [set('"x y"', bare('1')), set('"1"', bare('1')), set('"a.b: c"', bare('1'))],
      'a: 1\nx y: 1\n"1": 1\n"a.b: c": 1\n',
    ],
  ])('%s', (_, source, changes, expected) => {
    expect(changed(source, ...changes)).toBe(expected);
  });
});
