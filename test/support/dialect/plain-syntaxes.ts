import type { Syntax, SyntaxName } from '../../../src/syntax/contract.ts';

/** The lens asks a syntax for two things alone: escaping, and whether a key is well formed. */
function plain(name: SyntaxName): Syntax {
  return {
    name,
    parse: () => ({ tree: undefined, findings: [] }),
    change: () => ({ edits: [], results: [] }),
    badPath: (path) => (path === '' ? 'a key is empty' : undefined),
    escape: (value) => (name === 'json' ? JSON.stringify(value).slice(1, -1) : value),
  };
}

export const plainSyntaxes: Readonly<Record<SyntaxName, Syntax>> = {
  pairs: plain('pairs'),
  ini: plain('ini'),
  xml: plain('xml'),
  json: plain('json'),
  toml: plain('toml'),
  yaml: plain('yaml'),
  properties: plain('properties'),
  lines: plain('lines'),
  template: plain('template'),
};
