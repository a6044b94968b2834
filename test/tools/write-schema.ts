// Writes schema/*.schema.json from the registry and the shapes. Usage: npm run schema
import { mkdirSync, writeFileSync } from 'node:fs';
import { makeSchemas } from '../../src/vocabulary/schema.ts';
import { schemaText } from './schema-text.ts';

mkdirSync('schema', { recursive: true });
for (const [kind, schema] of Object.entries(makeSchemas())) {
  writeFileSync(`schema/${kind}.schema.json`, schemaText(schema));
}
