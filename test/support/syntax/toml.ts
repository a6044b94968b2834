import fc from 'fast-check';
import { parse as readSmolToml } from 'smol-toml';
import { printDottedPath, readDottedPath, tomlPaths } from '../../../src/syntax/shared/dotted-path.ts';
import { sameTomlScalar } from '../../../src/syntax/toml/toml-scalar.ts';
import { toml } from '../../../src/syntax/toml/toml.ts';
import type { SyntaxGenerator } from './contract.ts';
import { plainOf } from './edited-object.ts';
import { sameValues } from './same-values.ts';
import { tomlText } from './toml-texts.ts';
import { isEmptyGroup } from './tree-laws.ts';
import type { TreeSyntax } from './tree-laws.ts';
import { freshNames, relatedPaths, stepsOf, syntaxValues } from './tree-values.ts';

const readToml = (text: string): unknown => readSmolToml(text.replace(/^\ufeff/, ''), { integersAsBigInt: 'asNeeded' });

/** TOML with smol-toml as its second reader. */
export const tomlTree: TreeSyntax = {
  syntax: toml,
  texts: tomlText(),
  values: syntaxValues([
    'true',
    '12',
    '0x1f',
    '1_000.5',
    'inf',
    '1979-05-27',
    '07:32:00',
    '1979-05-27T07:32:00Z',
    '-0',
    'null',
  ]),
  print: (steps) => printDottedPath(steps, tomlPaths),
  steps: (path) => stepsOf(readDottedPath(path, tomlPaths)),
  reader: readToml,
  reads: (asked) => {
    const item = (one: { text: string; literal?: boolean }): unknown =>
      one.literal === true ? (readToml(`v = ${one.text}`) as { v: unknown }).v : one.text;
    return plainOf(asked.kind === 'scalar' ? item(asked) : asked.items.map(item));
  },
};

const paths = fc
  .tuple(fc.constantFrom<readonly string[]>([], ['a'], ['b', 'c'], ['key']), freshNames)
  .map(([above, names]) => tomlTree.print([...above, ...names]));

/** TOML for the lens laws that all syntaxes share. */
export const tomlGenerator: SyntaxGenerator = {
  syntax: toml,
  texts: tomlTree.texts.map((text) => ({ text, style: {} })),
  newPaths: paths,
  // Of each value one spelling only, since an equal one that stands there stays.
  values: syntaxValues(['true', '12', '7.5']),
  same: sameValues(sameTomlScalar),
  related: relatedPaths,
  // A group that stood empty goes with the last key that it is given: nothing tells it from one that we made.
  notRestored: ({ text }, path) =>
    tomlTree.steps(path).some((_, k, steps) => k > 0 && isEmptyGroup(tomlTree, text, steps.slice(0, k))),
  comments: (text) => text.match(/(?<=^\ufeff?)# note \d+!/gm) ?? [],
};
