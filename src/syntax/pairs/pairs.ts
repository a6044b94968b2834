import type { Syntax, Tree } from '../contract.ts';
import { changeKeyed } from '../shared/change-keyed.ts';
import { keyedLineStyle } from '../shared/keyed-line-style.ts';
import { KeyedTree } from '../shared/keyed-tree.ts';
import type { KeyNaming } from '../shared/keyed-tree.ts';

const naming: KeyNaming = {
  parted: false,
  bare: false,
  path: (_section, name) => name,
  read: (path) => (path === '' || path !== path.trim() || /[\r\n]/.test(path) ? undefined : { section: undefined, name: path }),
};

function ownTree(tree: Tree): KeyedTree {
  if (tree instanceof KeyedTree) return tree;
  throw new Error('A tree of another syntax was given to pairs. This is a bug in thumbwright.');
}

/**
 * One key a line: `key: value`, `key = value`, `key value`. A key's path is its name. Lines that are blank, begin with
 * a comment mark, are a heading such as `[screen]`, or hold no separator are kept and are no keys. There is no standard
 * for this format: the style says what the program does, and what it does not say is detected from the text.
 */
export const pairs: Syntax = {
  name: 'pairs',
  parse: (source, style) => ({ tree: new KeyedTree(source, style, keyedLineStyle(source.text, style), naming), findings: [] }),
  change: (tree, changes) => changeKeyed(ownTree(tree), changes),
  badPath: (path) => (naming.read(path) === undefined ? 'A key is one name, without blanks at its ends.' : undefined),
  escape: (value) => value.replace(/[\r\n]+/g, ' '),
};
