// java.util.Properties (OpenJDK) as a second reader of random properties texts, before and after our edits.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Change, Tree } from '../../../src/syntax/contract.ts';
import { properties } from '../../../src/syntax/properties/properties.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { readByJava } from '../../support/syntax/java-properties.ts';
import { propertiesGenerator } from '../../support/syntax/properties.ts';
import { requireTool } from '../../support/tool.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) * 4;

/** Texts made of what the format has a rule for, in any order: most are odd, some are refused. */
const oddTexts = fc
  .array(
    fc.constantFrom(
      ...['a', 'b', 'k', 'é', '\u0000', '\udce9', '0041', '\\u0041', '\\u00', '\\', '\\\\', '=', ':', ' ', '\t', '\f'],
      ...['#', '!', '\n', '\r\n', '\r', '\\\n', '\\\r\n', '\\\r', '\\t', '\\q', '\u2028', '\u0085', '\ud83d\ude00'],
    ),
    { maxLength: 16 },
  )
  .map((parts) => parts.join(''));
/**
 * What is read otherwise on purpose. The byte-order mark is no part of the text here, and a part of the first key for Java.
 * A line of a lone backslash is blank for Java and here, but not as the last one: there Java finds an empty key, unless
 * the line ends with CRLF or blanks follow it.
 */
const isApart = (text: string): boolean => text.startsWith('\ufeff') || /(?:^|[\r\n])[ \t\f]*\\[\r\n]?$/.test(text);
const texts = fc
  .oneof(
    propertiesGenerator.texts.map(({ text }) => text),
    oddTexts,
  )
  .filter((text) => !isApart(text));

function read(text: string): Tree | undefined {
  return properties.parse({ name: 'text', text }, {}).tree;
}

function held(tree: Tree): ReadonlyMap<string, string> {
  return new Map(
    tree.keys().map(({ path }) => {
      const value = tree.get(path);
      return [path, value?.kind === 'scalar' ? value.text : 'a list'];
    }),
  );
}

describe.skipIf(requireTool('javac', 'default-jdk-headless'))('properties, as java.util.Properties reads them', () => {
  it('reads the same keys and values, and refuses the same texts', () => {
    const sample = fc.sample(texts, runs);
    const java = readByJava(sample);
    expect(java).toHaveLength(sample.length);
    sample.forEach((text, k) => {
      const tree = read(text);
      expect([text, tree === undefined ? undefined : held(tree)]).toEqual([text, java[k]]);
    });
  });

  it('sees exactly the change that was asked for', () => {
    const wish = fc.tuple(texts, fc.nat(1000), fc.boolean(), propertiesGenerator.newPaths, propertiesGenerator.values);
    const edited = fc.sample(wish, runs).flatMap(([text, pick, isNew, name, value]) => {
      const tree = read(text);
      if (tree === undefined || value.kind !== 'scalar') return [];
      const keys = tree.keys();
      const path = isNew ? name : (keys[pick % Math.max(1, keys.length)]?.path ?? name);
      const wanted = new Map(held(tree));
      const gone = pick % 4 === 0 && !isNew;
      const change: Change = gone ? { op: 'remove', path } : { op: 'set', path, value };
      const { edits, results } = properties.change(tree, [change]);
      if (results[0]?.kind === 'refused') return [];
      if (gone) wanted.delete(path);
      else wanted.set(path, value.text);
      const after = applyEdits(text, edits);
      return isApart(after) ? [] : [{ text, change, after, wanted }];
    });
    expect(edited.length).toBeGreaterThan(runs / 2);
    const java = readByJava(edited.map(({ after }) => after));
    edited.forEach(({ wanted, ...of }, k) => expect([of, java[k]]).toEqual([of, wanted]));
  });
});
