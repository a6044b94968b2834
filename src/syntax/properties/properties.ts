import type { Syntax, Tree } from '../contract.ts';
import { changeKeyed } from '../shared/change-keyed.ts';
import { KeyedTree, readKeyed } from '../shared/keyed-tree.ts';
import { escapeValue } from './properties-escapes.ts';
import { PropertiesGrammar } from './properties-grammar.ts';

/**
 * Java properties, by the documentation of `java.util.Properties.load(Reader)` and `store` (Java SE 17). A key path is the
 * name with its escapes taken off, and may be any text, the empty one too; so may a value. New text is printable ASCII.
 * Style heeded: `separator` (default: as the neighbours), `list`, `duplicates`, `lineEnd`.
 */
export const properties: Syntax = {
  name: 'properties',
  parse: (source, style) => readKeyed('properties', source, style, new PropertiesGrammar(style)),
  change: (tree, changes) => changeKeyed(ownTree(tree), changes, () => undefined),
  badPath: () => undefined,
  escape: escapeValue,
};

function ownTree(tree: Tree): KeyedTree {
  if (tree instanceof KeyedTree && tree.syntax === 'properties') return tree;
  throw new Error('A tree of another syntax was given to properties. This is a bug in thumbwright.');
}
