import { describe, expect, it } from 'vitest';
import { steadyPaths } from '../../../src/learn/copies/steady-paths.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';

type Paths = readonly (readonly [string, string | undefined])[];

function allPaths(...texts: readonly string[]): readonly Paths[] {
  const trees = texts.map((text) => {
    const { tree } = xml.parse({ name: 'text', text }, {});
    if (tree === undefined) throw new Error('The text is not read.');
    return tree;
  });
  return steadyPaths(trees).map((steady, at) => {
    // Every steady path names the key that it stands for.
    for (const [key, path] of steady) if (path !== undefined) expect(trees[at]?.get(path)).toEqual(trees[at]?.get(key));
    return [...steady];
  });
}

function paths(text: string): Paths {
  return allPaths(text)[0] ?? [];
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

  it('tells elements by what stays through the copies, not by values that happen to differ in one', () => {
    const one = '<all><set is="on" id="a"/><set is="off" id="b"/></all>';
    const other = '<all><set is="on" id="b"/><set is="low" id="a"/></all>';
    const [first, second] = allPaths(one, other).map((own) => new Set(own.map(([, path]) => path)));
    const steady = new Set([
      "/all/set[@id='a']",
      "/all/set[@id='a']/@is",
      "/all/set[@id='b']",
      "/all/set[@id='b']/@is",
      undefined,
    ]);
    expect(first).toEqual(steady);
    expect(second).toEqual(steady);
  });

  it('calls an element alike where its siblings come only later', () => {
    const [first, second] = allPaths(
      '<all><set id="a">1</set></all>',
      '<all><set id="b">2</set><set id="a">1</set></all>',
    );
    expect(first?.map(([, path]) => path)).toContain("/all/set[@id='a']");
    expect(second?.map(([, path]) => path)).toContain("/all/set[@id='a']");
  });
});
