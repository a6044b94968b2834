import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readYaml } from '../../src/1-load/read-yaml.ts';
import { kindOf } from '../../src/1-load/file-kind.ts';

const demo = readFileSync(new URL('../../profiles/dialects/harrow.yaml', import.meta.url), 'utf8');
const piece = fc.oneof(
  fc.constantFrom(
    '\t',
    '{{',
    '&a ',
    '*a',
    '<<: ',
    '? ',
    '- ',
    ': ',
    '!!x ',
    '---\n',
    '%Y\n',
    '"',
    "'",
    '|',
    '>',
    '\r\n',
    '\u001b',
    '\udc80',
    '[',
    '}',
    '__proto__: 1\n',
    '\n  ',
  ),
  fc.string({ unit: 'binary', maxLength: 6 }),
);
const change = fc.record({ at: fc.nat(demo.length), drop: fc.nat(12), put: piece });

it('reads any mutation of a file or refuses it with an error, and never throws', () => {
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 5 }), (changes) => {
      const text = changes.reduce((now, { at, drop, put }) => now.slice(0, at) + put + now.slice(at + drop), demo);
      const read = readYaml({ name: 'x.yaml', text }, kindOf(text) ?? 'dialect');
      expect(read.value === undefined).toBe(read.findings.some(({ grade }) => grade === 'error'));
      for (const { place } of read.findings)
        expect((place?.span.start ?? 0) <= (place?.span.end ?? 0) && (place?.span.end ?? 0) <= text.length).toBe(true);
    }),
    { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) },
  );
}, 120_000);
