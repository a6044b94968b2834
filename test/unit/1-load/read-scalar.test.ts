import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readScalar } from '../../../src/1-load/read-scalar.ts';

// YAML 1.2.2 section 10.3.2 (core schema), the tag resolution table; the `yaml` package's core schema is the second reader.
const texts = [
  'true',
  'True',
  'TRUE',
  'false',
  'tRUE',
  'yes',
  'on',
  '0',
  '-19',
  '+12',
  '007',
  '0o14',
  '0o8',
  '0x3A',
  '0b1',
  '1_000',
  '0.',
  '-0.0',
  '.5',
  '+12e03',
  '-2E+05',
  '1234e567x',
  '1.2.3',
  '+',
  '.',
  'e3',
];

describe('plain scalars by the core schema', () => {
  it.each(texts)('%s', (text) => {
    expect(readScalar(text, true, { type: ['boolean', 'number', 'string'] })).toStrictEqual(
      parse(text, { schema: 'core' }),
    );
  });
  it.each(texts)('%s is its own text where a text is wanted, and where it is quoted', (text) => {
    expect(readScalar(text, true, { type: 'string' })).toBe(text);
    expect(readScalar(text, false, { type: ['boolean', 'number', 'string'] })).toBe(text);
  });
});
