import { describe, expect, it } from 'vitest';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';
import { listIn } from '../../support/dialect/lay-records.ts';
import { smallContext } from '../../support/dialect/small-context.ts';

type Known = 'json' | 'xml' | 'toml' | 'yaml';

function namesIn(syntax: Known, at: string, list: string, text: string, rest = ''): readonly string[] {
  const dialect = dialectDocument(`
dialect: shelf
format: 1
version: 1.0.0
for-versions: ">=1"
role: menu
files: { shelf: { path: "{{root}}/shelf", syntax: ${syntax} } }
settings: {}
records: { lists: { file: shelf, at: ${at}, fields: { path: leaf, list: '${list}' }${rest} } }
`);
  const { value: lens } = makeLens(smallContext(dialect), syntaxes);
  const { tree } = syntaxes[syntax].parse({ name: 'shelf', text }, {});
  return lens.recordItems('games.lists', listIn(dialect, text), () => tree?.keys().map(({ path }) => path) ?? []);
}

describe('the names of lists that stand in a file', () => {
  it.each<[Known, string, string, string, readonly string[]]>([
    [
      'json',
      '/v',
      'in/{{option.name}}',
      '{"v": [{"leaf": "burdock/a", "in": {"rainy day": true, "a/b": 1}}, {"in": {"short": true}}], "in": {"no": 1}}',
      ['rainy day', 'a/b', 'short'],
    ],
    [
      'xml',
      '/q/b',
      'in/{{option.name}}',
      '<q><b><in><rainy>true</rainy></in></b><b><in><short>true</short></in></b><in><no>1</no></in></q>',
      ['rainy', 'short'],
    ],
    [
      'toml',
      'v',
      'in.{{option.name}}',
      '[[v]]\nleaf = "x"\nin."rainy day" = true\n[[v]]\nin.short = true\n',
      ['rainy day', 'short'],
    ],
    [
      'yaml',
      'v',
      'in.{{option.name}}',
      'v:\n  - leaf: x\n    in: { "rainy day": true }\n  - in: { short: true }\n',
      ['rainy day', 'short'],
    ],
  ])('names of fields in %s', (syntax, at, list, text, names) => {
    expect(namesIn(syntax, at, list, text)).toEqual(names);
  });

  it('texts of one field, off aside', () => {
    const text = '{"v": [{"leaf": "a", "set": "rainy"}, {"set": "none"}, {"set": "short"}, {"set": "rainy"}]}';
    expect(namesIn('json', '/v', 'set', text, ', off: none')).toEqual(['rainy', 'short']);
  });

  it('none, where records are in no list', () => {
    expect(namesIn('json', '/v', 'in/{{option.name}}', '{"v": []}')).toEqual([]);
  });
});
