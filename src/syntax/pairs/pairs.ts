import type { Syntax, Tree } from '../contract.ts';
import { changeKeyed } from '../shared/change-keyed.ts';
import { KeyedTree, readKeyed } from '../shared/keyed-tree.ts';
import { PairGrammar } from '../shared/pair-grammar.ts';

/**
 * Lines of key and value: `name = value`, `name: value`, `name value`. A key path is the name as it stands, without the
 * blanks around it. Lines in brackets, rulers and lines without a separator are headings for people: kept, never keys.
 * Where blanks part key and value, a word that stands alone is a key that holds an empty text.
 *
 * Style heeded: `separator` (detected from what follows the first word of most lines; keys of several words need it
 * said), `comment` (default `#` and `;`), `inlineComments`, `quote`, `list`, `duplicates`, `continuation`, `foldCase`,
 * `lineEnd`. Values have no escapes: one that neither bare nor in quotes reads back as itself is refused.
 */
export const pairs: Syntax = {
  name: 'pairs',
  parse: (source, style) =>
    readKeyed('pairs', source, style, new PairGrammar(source.text, style, { sectioned: false, separator: ' = ' })),
  change: (tree, changes) => changeKeyed(ownTree(tree), changes, badPath),
  badPath,
  escape: (value) => value,
};

function badPath(path: string): string | undefined {
  if (path === '') return 'It is empty.';
  if (/[\r\n]/.test(path)) return 'It holds a line end.';
  return /^[ \t]|[ \t]$/.test(path) ? 'It begins or ends with a blank.' : undefined;
}

function ownTree(tree: Tree): KeyedTree {
  if (tree instanceof KeyedTree && tree.syntax === 'pairs') return tree;
  throw new Error('A tree of another syntax was given to pairs. This is a bug in thumbwright.');
}
