import type { CatalogueEntry } from './entry.ts';

export const syntaxCodes = {
  'json-unreadable': { grade: 'error', summary: 'This JSON cannot be read' },
  'xml-unreadable': { grade: 'error', summary: 'This XML cannot be read' },
  'xml-entity-kept': { grade: 'note', summary: 'Declared entities stay as written' },
  'nested-too-deep': { grade: 'error', summary: 'The text is nested too deeply' },
  'bad-key-path': { grade: 'error', summary: 'This key path is malformed' },
  'value-not-carried': { grade: 'error', summary: 'The file format cannot carry this value' },
  'key-not-determined': { grade: 'error', summary: 'The key has no certain place' },
  'key-ambiguous': { grade: 'error', summary: 'The key path matches several places' },
  'toml-unreadable': { grade: 'error', summary: 'This TOML cannot be read' },
  'yaml-unreadable': { grade: 'error', summary: 'This YAML file cannot be read' },
  'text-too-long': { grade: 'error', summary: 'The text is too long' },
  'changes-collide': { grade: 'error', summary: 'Two changes cannot both be made' },
  'key-holds-keys': { grade: 'error', summary: 'This key holds other keys' },
  'shared-by-alias': { grade: 'error', summary: 'Several keys share this value by reference' },
  'several-documents': { grade: 'error', summary: 'The file holds several YAML documents' },
  'quote-unclosed': { grade: 'error', summary: 'A quote is not closed' },
  'section-unclosed': { grade: 'error', summary: 'A section heading is not closed' },
  'key-given-twice': { grade: 'error', summary: 'A key is given twice' },
  'escape-unreadable': { grade: 'error', summary: 'An escape cannot be read' },
  'file-wholly-ours': { grade: 'error', summary: 'This file has no keys to set' },
} as const satisfies Record<string, CatalogueEntry>;
