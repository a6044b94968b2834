import type { Syntax, Tree } from '../contract.ts';
import { changeKeyed } from '../shared/change-keyed.ts';
import { KeyedTree, readKeyed } from '../shared/keyed-tree.ts';
import { PairGrammar } from '../shared/pair-grammar.ts';

/**
 * Sections of keys. A key path is `[section] name`, with one blank after the bracket, or `name` for a key before any
 * section. The section's name is all between the brackets, blanks too; the bracket that closes it is the first one that ends
 * the line or comes before a comment, else the last of the line. A line without a separator is a key without a value
 * and holds an empty text.
 *
 * Style heeded: as pairs, and `sections` for sections that come several times. Blanks alone part no key from its value
 * unless `separator` says so. Indented lines are lines like others: that some programs take them for a part of the value
 * above is not read.
 */
export const ini: Syntax = {
  name: 'ini',
  parse: (source, style) =>
    readKeyed('ini', source, style, new PairGrammar(source.text, style, { sectioned: true, separator: '=' })),
  change: (tree, changes) => changeKeyed(ownTree(tree), changes, badPath),
  badPath,
  escape: (value) => value,
};

function badPath(path: string): string | undefined {
  if (/[\r\n]/.test(path)) return 'It holds a line end.';
  if (path.startsWith('[') && path.indexOf('] ') < 0) return 'A section is written `[section] name`, with one blank.';
  const name = path.startsWith('[') ? path.slice(path.indexOf('] ') + 2) : path;
  if (name === '') return 'It names no key.';
  return /^[ \t]|[ \t]$/.test(name) ? 'The name begins or ends with a blank.' : undefined;
}

function ownTree(tree: Tree): KeyedTree {
  if (tree instanceof KeyedTree && tree.syntax === 'ini') return tree;
  throw new Error('A tree of another syntax was given to ini. This is a bug in thumbwright.');
}
