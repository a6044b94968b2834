import type { Syntax } from '../contract.ts';
import { changeJson } from './change-json.ts';
import { jsonRecords } from './json-records.ts';
import { badJsonPointer } from './json-pointer.ts';
import { JsonTree } from './json-tree.ts';
import { readJson } from './read-json.ts';

/**
 * JSON (RFC 8259), with comments and trailing commas unless the style's `relaxed` is false. Keys are JSON pointers
 * (RFC 6901) to scalars and to arrays of scalars, which are lists; of members with one name the last counts.
 * Style heeded: `relaxed`, `indent`, `lineEnd`, `siblings`.
 */
export const json: Syntax = {
  name: 'json',
  parse(source, style) {
    const { root, findings, head } = readJson(source, style.relaxed);
    return { tree: findings.length > 0 ? undefined : new JsonTree(source, style, root, head), findings };
  },
  change(tree, changes) {
    return changeJson(JsonTree.of(tree), changes);
  },
  badPath: badJsonPointer,
  escape(value) {
    return JSON.stringify(value).slice(1, -1);
  },
  records: jsonRecords,
};
