import * as validators from 'virtual:validators';
import { Validator } from '@cfworker/json-schema';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isMapping, kinds, legalDocument, schemaOf } from '../support/vocabulary/documents.ts';
import { mutations } from '../support/vocabulary/mutate.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

/** A published schema as the loader sees it: where a text may look like a number, the loader gives a text. */
function narrowed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(narrowed);
  if (!isMapping(schema)) return schema;
  const copy = Object.fromEntries(Object.entries(schema).map(([name, value]) => [name, narrowed(value)]));
  const type: unknown = copy['type'];
  if (copy['x-thumbwright'] !== 'text' || !Array.isArray(type)) return copy;
  const kept = (type as readonly unknown[]).filter((name) => name !== 'number' && name !== 'boolean');
  return { ...copy, type: kept.length === 1 ? kept[0] : kept };
}

interface Told {
  readonly keyword: string;
  readonly instancePath: string;
  readonly params: unknown;
}

/** Errors in an order of their own, since the two make them in different orders. */
function told(errors: readonly Told[] | null | undefined): readonly string[] {
  return (errors ?? [])
    .map(({ keyword, instancePath, params }) => JSON.stringify([keyword, instancePath, params]))
    .sort();
}

test.each(kinds)('the validator of a %s is made small without changing what it says', (kind) => {
  // The reference: ajv's class for 2020-12 on the schema as it is, nothing regrouped and nothing cut.
  const ajv = new Ajv2020({ allErrors: true, strict: false });
  const schema = narrowed(schemaOf(kind));
  if (!isMapping(schema)) throw new Error(kind);
  const reference = ajv.compile(schema);
  const ours = validators[kind];
  let wrong = 0;
  fc.assert(
    fc.property(mutations(legalDocument(kind)), (data) => {
      reference(data);
      ours(data);
      if ((reference.errors ?? []).length > 0) wrong += 1;
      expect(told(ours.errors)).toEqual(told(reference.errors));
    }),
    { numRuns },
  );
  expect(wrong).toBeGreaterThan(0);
});

test.each(kinds)('another JSON Schema validator says the same of a %s', (kind) => {
  // @cfworker/json-schema: an interpreter of draft 2020-12 that shares no code with ajv.
  const other = new Validator(schemaOf(kind), '2020-12', false);
  const ajv = new Ajv2020({ allErrors: true, strict: false });
  const ours = ajv.compile(schemaOf(kind));
  let wrong = 0;
  fc.assert(
    fc.property(mutations(legalDocument(kind)), (data) => {
      const { valid } = other.validate(data);
      if (!valid) wrong += 1;
      expect(ours(data)).toBe(valid);
    }),
    { numRuns },
  );
  expect(wrong).toBeGreaterThan(0);
});

test.each([[null], [5], ['text'], [[]], [{}], [[{}]]])('%j is no file of any kind, and no validator throws', (data) => {
  for (const kind of kinds) expect(validators[kind](data)).toBe(false);
});
