import { describe, expect, it } from 'vitest';
import { steadyPaths } from '../../../src/learn/copies/steady-paths.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';

function paths(text: string): readonly (readonly [string, string | undefined])[] {
  const { tree } = xml.parse({ name: 'text', text }, {});
  if (tree === undefined) throw new Error('The text is not read.');
  const steady = steadyPaths(tree);
  // Every steady path names the key that it stands for.
  for (const [key, path] of steady) if (path !== undefined) expect(tree.get(path)).toEqual(tree.get(key));
  return [...steady];
}

describe('steadyPaths', () => {
  it('tells elements by an attribute, whatever their order', () => {
    expect(new Map(paths('<all><set id="a" to="1"/><set id="b" to="1"/></all>'))).toEqual(
      new Map([
        ['/all/set[1]', "/all/set[@id='a']"],
        ['/all/set[1]/@id', undefined],
        ['/all/set[1]/@to', "/all/set[@id='a']/@to"],
        ['/all/set[2]', "/all/set[@id='b']"],
        ['/all/set[2]/@id', undefined],
        ['/all/set[2]/@to', "/all/set[@id='b']/@to"],
      ]),
    );
    const [there, back] = ['<set id="a" to="1"/>', '<set id="b" to="2"/>'];
    const named = (text: string): readonly unknown[] => paths(text).map(([, path]) => path);
    expect(new Set(named(`<all>${back}${there}</all>`))).toEqual(new Set(named(`<all>${there}${back}</all>`)));
  });

  it('tells elements by a child where they have no attribute', () => {
    const text = '<all><set><name>a</name><is>1</is></set><set><name>b</name><is>1</is></set></all>';
    expect(paths(text).map(([, path]) => path)).toEqual([
      undefined,
      "/all/set[name='a']/is",
      undefined,
      "/all/set[name='b']/is",
    ]);
  });

  it('leaves the number where nothing tells the elements apart, and single elements alone', () => {
    expect(paths('<all><on>1</on><at>x</at><at>y</at></all>').map(([, path]) => path)).toEqual([
      '/all/on',
      '/all/at[1]',
      '/all/at[2]',
    ]);
  });
});
