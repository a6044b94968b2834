import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Syntax, Tree } from '../contract.ts';
import { notNamed, quoteName, readDottedPath, tomlPaths } from '../shared/dotted-path.ts';
import { changeToml } from './change-toml.ts';
import { readToml, tomlDepth, tomlSize, tomlToken } from './read-toml.ts';
import type { ReadToml } from './read-toml.ts';
import { changeTomlRecords, listTomlRecords } from './toml-records.ts';
import { TomlTree } from './toml-tree.ts';

/**
 * TOML 1.0 (toml.io/en/v1.0.0). A key is TOML's own dotted key, with the items of arrays by index:
 * `screen.smooth`, `"odd key".x`, `game[0].path`, `matrix[1][0]`; the exact grammar is at `readDottedPath`, with
 * TOML's bare keys. Values are scalars (strings; with `literal` numbers, booleans, dates and times as written, compared
 * by value) and arrays of scalars as lists. A new key goes after the last one of its table; a missing table is
 * added after its nearest relatives, as an own `[header]`; below an inline table or a dotted key, as they are written.
 * A table that loses its last key goes too, unless a comment stands in it or it is an item of an array of tables.
 * Style heeded: `lineEnd`, `siblings` (records).
 */
export const toml: Syntax = {
  name: 'toml',
  parse(source, style) {
    const read = readToml(source.text);
    if (read.kind !== 'read') return { tree: undefined, findings: [unreadable(source, read)] };
    return { tree: new TomlTree(source, style, read.document), findings: [] };
  },
  change: (tree, changes) => changeToml(ownTree(tree), changes),
  badPath(path) {
    const read = readDottedPath(path, tomlPaths);
    return read.kind === 'bad' ? read.why : undefined;
  },
  escape: (value) => quoteName(value).slice(1, -1),
  /** Items of an array of tables, `[[game]]` or `game = [{ … }]`; `at` is `game`, fields are dotted keys inside. */
  records: {
    badAt(at) {
      const read = readDottedPath(at, tomlPaths);
      return read.kind === 'bad' ? read.why : undefined;
    },
    badField(field) {
      const read = readDottedPath(field, tomlPaths);
      return read.kind === 'bad' ? read.why : notNamed(read.steps);
    },
    list: (tree, at, fields) => listTomlRecords(ownTree(tree), at, fields),
    change: (tree, at, changes) => changeTomlRecords(ownTree(tree), at, changes),
  },
};

function ownTree(tree: Tree): TomlTree {
  if (tree instanceof TomlTree) return tree;
  throw new Error('A tree of another syntax was given to TOML. This is a bug in thumbwright.');
}

function unreadable(source: SourceText, read: Exclude<ReadToml, { kind: 'read' }>): Finding {
  const place = { source, span: { start: read.at, end: read.at } };
  switch (read.kind) {
    case 'bad':
      return makeFinding('toml-unreadable', {
        detail: `${read.why.replace(/\.$/, '')}. The program that owns this file cannot read it either, so it is left as it is.`,
        wayOut: 'Mend the text at the place shown, or let its program write the file anew.',
        place,
      });
    case 'too-deep':
      return makeFinding('nested-too-deep', {
        detail: `Here the text is nested more than ${tomlDepth} levels deep.`,
        wayOut: 'Take out the nesting by hand: no program writes its settings so deep.',
        place,
      });
    case 'too-long':
      return makeFinding('text-too-long', {
        detail: `The string or comment that begins here is longer than ${tomlToken} characters.`,
        wayOut: 'Shorten it by hand, or leave this file out of the dialect.',
        place,
      });
    case 'too-large':
      return makeFinding('text-too-long', {
        detail: `The file has ${source.text.length} characters; at most ${tomlSize} are read.`,
        wayOut: 'Leave this file out of the dialect: it holds more than settings.',
        place,
      });
  }
}
