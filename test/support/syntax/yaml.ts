import fc from 'fast-check';
import { CORE_SCHEMA, defineScalarTag, load } from 'js-yaml';
import { printDottedPath, yamlPaths } from '../../../src/syntax/shared/dotted-path.ts';
import { sameYamlScalar } from '../../../src/syntax/yaml/yaml-scalar.ts';
import { readYamlPath } from '../../../src/syntax/yaml/yaml-tree.ts';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import type { SyntaxGenerator } from './contract.ts';
import { plainOf } from './edited-object.ts';
import { sameValues } from './same-values.ts';
import { yamlText } from './yaml-texts.ts';
import { isEmptyGroup } from './tree-laws.ts';
import type { TreeSyntax } from './tree-laws.ts';
import { freshNames, relatedPaths, stepsOf, syntaxValues } from './tree-values.ts';

const ownTags = CORE_SCHEMA.withTags(
  defineScalarTag('!own', { resolve: (source: string) => source, identify: () => false }),
);
const readYaml = (text: string): unknown =>
  text.replaceAll(/^\ufeff?\s*(?:#.*)?$/gm, '').trim() === '' ? null : load(text, { schema: ownTags });

/** YAML with js-yaml as its second reader. */
export const yamlTree: TreeSyntax = {
  syntax: yaml,
  texts: yamlText(),
  values: syntaxValues(['true', '12', '0x1f', '1000.5', '.inf', 'null', '~', '-0', '1e3', 'yes']),
  print: (steps) => printDottedPath(steps, yamlPaths),
  steps: (path) => stepsOf(readYamlPath(path)),
  reader: readYaml,
  reads: (asked) => {
    const item = (one: { text: string; literal?: boolean }): unknown =>
      one.literal === true ? readYaml(one.text) : one.text;
    return plainOf(asked.kind === 'scalar' ? item(asked) : asked.items.map(item));
  },
};

const paths = fc
  .tuple(fc.constantFrom<readonly string[]>([], ['a'], ['b', 'c'], ['key']), freshNames)
  .map(([above, names]) => yamlTree.print([...above, ...names]));

function withoutHoles(text: string): boolean {
  const { tree } = yaml.parse({ name: 'text', text }, {});
  return tree === undefined || tree.keys().every(({ valueSpan }) => valueSpan.end > valueSpan.start);
}

/** YAML for the lens laws that all syntaxes share. */
export const yamlGenerator: SyntaxGenerator = {
  syntax: yaml,
  // A key without a value is one that holds null, and no longer listed when it is given keys of its own.
  texts: yamlTree.texts.filter(withoutHoles).map((text) => ({ text, style: {} })),
  newPaths: paths,
  // Of each value one spelling only, since an equal one that stands there stays.
  values: syntaxValues(['true', '12', '7.5']),
  same: sameValues(sameYamlScalar),
  related: relatedPaths,
  // A group that stood empty goes with the last key that it is given: nothing tells it from one that we made.
  notRestored: ({ text }, path) =>
    yamlTree.steps(path).some((_, k, steps) => k > 0 && isEmptyGroup(yamlTree, text, steps.slice(0, k))),
  // Told by this syntax's own laws (tree-laws.ts): comments between the items of a list go with it.
  comments: () => [],
};
