import type { Syntax, Tree } from '../contract.ts';
import { changeKeyed } from '../shared/change-keyed.ts';
import { keyedLineStyle } from '../shared/keyed-line-style.ts';
import { KeyedTree } from '../shared/keyed-tree.ts';
import type { KeyNaming } from '../shared/keyed-tree.ts';

const naming: KeyNaming = {
  parted: true,
  bare: true,
  path: (section, name) => (section === undefined ? name : `[${section}] ${name}`),
  read: (path) => {
    if (/[\r\n]/.test(path)) return undefined;
    const match = /^\[([^\]]*(?:\][^\]\s][^\]]*)*)\] (\S.*)$/.exec(path);
    if (match?.[1] !== undefined && match[2] !== undefined) return match[2] === match[2].trim() ? { section: match[1].trim(), name: match[2] } : undefined;
    return path === '' || path !== path.trim() || path.startsWith('[') ? undefined : { section: undefined, name: path };
  },
};

function ownTree(tree: Tree): KeyedTree {
  if (tree instanceof KeyedTree) return tree;
  throw new Error('A tree of another syntax was given to ini. This is a bug in thumbwright.');
}

/**
 * Sections and keys. A key's path is `[section] name`; one before any section is `name`. A line without a separator is
 * a key without a value. There is no standard: readers differ on inline comments, quotes, repeated keys and case, which
 * is why the style says each of them.
 */
export const ini: Syntax = {
  name: 'ini',
  parse: (source, style) => ({ tree: new KeyedTree(source, style, keyedLineStyle(source.text, style), naming), findings: [] }),
  change: (tree, changes) => changeKeyed(ownTree(tree), changes),
  badPath: (path) => (naming.read(path) === undefined ? 'A key is [section] name, or a name alone before any section.' : undefined),
  escape: (value) => value.replace(/[\r\n]+/g, ' '),
};
