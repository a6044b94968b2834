import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { FileKind } from '../../../src/vocabulary/schema.ts';

export const kinds = ['profile', 'house', 'dialect', 'catalog'] as const satisfies readonly FileKind[];

/** A legal document of each kind, with every form that the design shows, as an editor's YAML parser sees it. */
export function legalDocument(kind: FileKind): unknown {
  return parse(readFileSync(new URL(`${kind}.yaml`, import.meta.url), 'utf8'));
}

export function schemaFile(kind: FileKind): string {
  return readFileSync(`schema/${kind}.schema.json`, 'utf8');
}

export function isMapping(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A published schema as plain data. */
export function schemaOf(kind: FileKind): Readonly<Record<string, unknown>> {
  const schema: unknown = JSON.parse(schemaFile(kind));
  if (!isMapping(schema)) throw new Error(`schema/${kind}.schema.json is not a mapping`);
  return schema;
}
