// What java.util.Properties (OpenJDK 17.0.15) makes of these texts; test/conformance/syntax/properties-java.test.ts asks it again.
import { describe, expect, it } from 'vitest';
import { properties } from '../../../src/syntax/properties/properties.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

function held(text: string): unknown {
  const { tree } = properties.parse({ name: 'text', text }, {});
  return tree?.keys().map(({ path }) => {
    const value = tree.get(path);
    return [path, value?.kind === 'scalar' ? value.text : value];
  });
}

describe('properties', () => {
  it('joins lines before escapes are read', () => {
    expect(held('q=\\u00a\\\r\n  b')).toEqual([['q', '\u00ab']]);
    expect(held('a=\\\\\\\nb')).toEqual([['a', '\\b']]);
  });

  it('takes one mark between key and value, also where the line goes on twice', () => {
    expect(held('k \\\n:\\\n=x')).toEqual([['k', '=x']]);
    expect(held('k \\\n\\\n=x')).toEqual([['k', 'x']]);
  });

  it('begins anew after a line of a lone backslash', () => {
    expect(held('\\\n# note\nb=1')).toEqual([['b', '1']]);
    expect(held(' \\\n\n=1\n')).toEqual([['', '1']]);
  });

  it('writes a new key on one line where its neighbours go on in the next', () => {
    const source = { name: 'text', text: 'a:\\\r\n  1\r\nb=\\\r  2\r\n' };
    const { tree } = properties.parse(source, {});
    if (tree === undefined) throw new Error('The text is not read.');
    const { edits } = properties.change(tree, [{ op: 'set', path: 'c', value: { kind: 'scalar', text: '3' } }]);
    expect(applyEdits(source.text, edits)).toBe(`${source.text}c=3\r\n`);
  });

  it('empties a value that began behind a carriage return without joining it to the next line', () => {
    const source = { name: 'text', text: 'a\t\\\r1\nb=2' };
    const { tree } = properties.parse(source, {});
    if (tree === undefined) throw new Error('The text is not read.');
    const { edits } = properties.change(tree, [{ op: 'set', path: 'a', value: { kind: 'scalar', text: '' } }]);
    expect(held(applyEdits(source.text, edits))).toEqual([
      ['a', ''],
      ['b', '2'],
    ]);
  });
});
