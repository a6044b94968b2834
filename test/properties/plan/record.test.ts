import fc from 'fast-check';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../../src/1-load/read-record.ts';
import { printRecord } from '../../../src/4-plan/print-record.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { anyRecord } from '../../support/any-record.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

describe('the record of a card', () => {
  it('is read back as it was printed, through the bytes of a file', () => {
    fc.assert(
      fc.property(anyRecord, (record) => {
        const text = decodeBytes(encodeText(printRecord(record)));
        const read = readRecord({ name: 'record.yaml', text });
        expect(read.findings).toEqual([]);
        expect(read.value).toEqual(record);
        expect(printRecord(record)).toBe(text);
      }),
      { numRuns },
    );
  });

  it('holds no byte that is no UTF-8, and no control character but the line end', () => {
    fc.assert(
      fc.property(anyRecord, (record) => {
        expect(printRecord(record)).not.toMatch(/\p{Surrogate}|[^\n\P{Cc}]/u);
      }),
      { numRuns },
    );
  });

  // YAML 1.2.2, by another reader than the one that we use.
  it('is YAML to a second reader, with the same texts', () => {
    fc.assert(
      fc.property(anyRecord, (record) => {
        const data = load(printRecord(record));
        expect(data).toMatchObject({ record: 'thumbwright', device: record.device, card: record.card });
      }),
      { numRuns },
    );
  });

  it('that was cut or changed is refused or read, and never throws', () => {
    fc.assert(
      fc.property(anyRecord, fc.nat(), fc.string(), (record, at, put) => {
        const text = printRecord(record);
        const cut = at % text.length;
        for (const broken of [text.slice(0, cut), text.slice(0, cut) + put + text.slice(cut + 1)]) {
          const { value, findings } = readRecord({ name: 'record.yaml', text: broken });
          expect(value === undefined).toBe(findings.length > 0);
          expect(findings.every(({ code }) => code === 'bad-record')).toBe(true);
        }
        const without = text.slice(0, Math.min(cut, text.length - 2));
        expect(readRecord({ name: 'record.yaml', text: without }).value).toBeUndefined();
      }),
      { numRuns: Math.ceil(numRuns / 3) },
    );
  });
});
