import type { CatalogueEntry } from './entry.ts';

export const syntaxCodes = {
  'json-unreadable': { grade: 'error', summary: 'This is not JSON that can be read' },
  'xml-unreadable': { grade: 'error', summary: 'This is not XML that can be read' },
  'xml-entity-kept': { grade: 'note', summary: 'Entities of a document type stay as written' },
  'nested-too-deep': { grade: 'error', summary: 'The text is nested too deeply' },
  'bad-key-path': { grade: 'error', summary: 'This key path is malformed' },
  'value-not-carried': { grade: 'error', summary: 'The file format cannot carry this value' },
  'key-not-determined': { grade: 'error', summary: 'The file has no place for this key' },
  'key-ambiguous': { grade: 'error', summary: 'The key path matches several places' },
  'toml-unreadable': { grade: 'error', summary: 'This is not TOML that can be read' },
  'yaml-unreadable': { grade: 'error', summary: 'This is not YAML that can be read' },
  'text-too-long': { grade: 'error', summary: 'The text is too long to be read' },
  'changes-collide': { grade: 'error', summary: 'Two changes cannot both be made' },
  'key-holds-keys': { grade: 'error', summary: 'This key holds other keys, not a value' },
  'shared-by-alias': { grade: 'error', summary: 'Several keys share this value by reference' },
  'several-documents': { grade: 'error', summary: 'The file holds several YAML documents' },
  'quote-unclosed': { grade: 'error', summary: 'A quote is not closed' },
  'section-unclosed': { grade: 'error', summary: 'A section heading is not closed' },
  'key-given-twice': { grade: 'error', summary: 'A key is given twice' },
  'escape-unreadable': { grade: 'error', summary: 'An escape cannot be read' },
  'file-wholly-ours': { grade: 'error', summary: 'This file has no keys to set' },
} as const satisfies Record<string, CatalogueEntry>;
