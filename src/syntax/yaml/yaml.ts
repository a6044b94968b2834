import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Syntax, Tree } from '../contract.ts';
import { notNamed, readDottedPath, yamlPaths } from '../shared/dotted-path.ts';
import { changeYaml } from './change-yaml.ts';
import { readYaml, yamlDepth, yamlSize } from './read-yaml.ts';
import type { ReadYaml } from './read-yaml.ts';
import { doubleQuoted } from './yaml-scalar.ts';
import { changeYamlRecords, listYamlRecords } from './yaml-records.ts';
import { YamlTree, readYamlPath } from './yaml-tree.ts';

/**
 * YAML 1.2.2, core schema. A key is a dotted path with the items of sequences by index: `screen.smooth`,
 * `"odd key".x`, `games[0].path`, `[0].path`; `.` alone is a document that is one value or list. The exact grammar is
 * at `readDottedPath`; a name needs quotes when it holds a dot, bracket, quote or blank. Keys that are no scalars
 * have no name. Values are scalars (with `literal`: null, booleans and numbers as written, compared by value) and
 * sequences of scalars as lists. New text stands in the indent of its siblings; a string that any reader of YAML 1.2
 * or 1.1 would take for something else is quoted. A mapping that loses its last key goes too, unless a comment stands
 * in it. What an alias refers to is not changed (`shared-by-alias`); an alias itself may be replaced by a value.
 * Of several documents only the first is read, and none is changed.
 * Style heeded: `indent`, `lineEnd`, `siblings` (records).
 */
export const yaml: Syntax = {
  name: 'yaml',
  parse(source, style) {
    const read = readYaml(source.text);
    if (read.kind !== 'read') return { tree: undefined, findings: [unreadable(source, read)] };
    return { tree: new YamlTree(source, style, read.document), findings: [] };
  },
  change: (tree, changes) => changeYaml(ownTree(tree), changes),
  badPath(path) {
    const read = readYamlPath(path);
    return read.kind === 'bad' ? read.why : undefined;
  },
  escape: (value) => doubleQuoted(value).slice(1, -1),
  /** Items of a sequence of mappings; `at` is its path (`games`, or `.` for the document), fields are paths inside. */
  records: {
    badAt(at) {
      const read = readYamlPath(at);
      return read.kind === 'bad' ? read.why : undefined;
    },
    badField(field) {
      const read = readDottedPath(field, yamlPaths);
      return read.kind === 'bad' ? read.why : notNamed(read.steps);
    },
    list: (tree, at, fields) => listYamlRecords(ownTree(tree), at, fields),
    change: (tree, at, changes) => changeYamlRecords(ownTree(tree), at, changes),
  },
};

function ownTree(tree: Tree): YamlTree {
  if (tree instanceof YamlTree) return tree;
  throw new Error('A tree of another syntax was given to YAML. This is a bug in thumbwright.');
}

function unreadable(source: SourceText, read: Exclude<ReadYaml, { kind: 'read' }>): Finding {
  const place = { source, span: { start: read.at, end: read.at } };
  switch (read.kind) {
    case 'bad':
      return makeFinding('yaml-unreadable', {
        detail: `${read.why.replace(/\.$/, '')}. The program that owns this file cannot read it either, so it is left as it is.`,
        wayOut: 'Mend the text at the place shown, or let its program write the file anew.',
        place,
      });
    case 'too-deep':
      return makeFinding('nested-too-deep', {
        detail: `Here the text is nested more than ${yamlDepth} levels deep.`,
        wayOut: 'Take out the nesting by hand: no program writes its settings so deep.',
        place,
      });
    case 'too-large':
      return makeFinding('text-too-long', {
        detail: `The file has ${source.text.length} characters; at most ${yamlSize} are read.`,
        wayOut: 'Leave this file out of the dialect: it holds more than settings.',
        place,
      });
  }
}
