import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { ChangeResult, Syntax } from '../contract.ts';
import { endOf } from '../shared/keyed-refusals.ts';

/** A file that is wholly ours, written from its template: it has no keys, and every change is refused. */
export const template: Syntax = {
  name: 'template',
  parse: (source, style) => ({
    tree: { source, style, keys: () => [], get: () => undefined, find: () => undefined },
    findings: [],
  }),
  change: ({ source }, changes) => ({
    edits: [],
    results: changes.map(({ path }): ChangeResult => {
      const finding = makeFinding('file-wholly-ours', {
        detail: `${JSON.stringify(path)} cannot be changed: this file is written whole from its template.`,
        wayOut: 'Put the value into the template, or give the file the syntax that its program reads.',
        place: { source, span: endOf(source) },
      });
      return { kind: 'refused', finding };
    }),
  }),
  badPath: () => 'A file that is written whole from a template has no keys.',
  escape: (value) => value,
};
