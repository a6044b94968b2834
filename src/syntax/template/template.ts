import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Syntax } from '../contract.ts';

/** A file that is wholly ours, made from a template: it has no keys, and nothing in it is changed by itself. */
export const template: Syntax = {
  name: 'template',
  parse: (source, style) => ({ tree: { source, style, keys: () => [], get: () => undefined, find: () => undefined }, findings: [] }),
  change: (tree, changes) => ({
    edits: [],
    results: changes.map((change) => ({
      kind: 'refused',
      finding: makeFinding('key-not-determined', {
        place: { source: tree.source, span: { start: 0, end: 0 } },
        detail: `The file is wholly made from a template, and has no key ${JSON.stringify(change.path)}.`,
        wayOut: 'Name what is wanted in the template, or give the file another syntax in the dialect.',
      }),
    })),
  }),
  badPath: () => 'A file made from a template has no keys.',
  escape: (value) => value,
};
