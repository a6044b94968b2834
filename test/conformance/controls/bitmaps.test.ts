import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bitmapBits, decodeBitmap, encodeBitmap } from '../../../src/controls/capture/bitmap.ts';
import { readCapture } from '../../../src/controls/capture/read-capture.ts';
import { evdevCases } from '../../support/controls/evdev-cases.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

// evdev-index-cases.json: /proc/bus/input/devices of 64-bit and 32-bit kernels (Linux 6.1.192).
describe.each(evdevCases.map((one) => [one.id, one] as const))('the list of %s', (_, one) => {
  const keys = one.keys.map(({ code }) => code).sort((a, b) => a - b);
  const axes = one.abs.map(({ code }) => code).sort((a, b) => a - b);

  it('decodes with words of both sizes', () => {
    expect(decodeBitmap(one.proc_key_64bit, 64, bitmapBits.KEY)).toEqual({ kind: 'codes', codes: keys });
    expect(decodeBitmap(one.proc_key_32bit, 32, bitmapBits.KEY)).toEqual({ kind: 'codes', codes: keys });
    if (axes.length > 0) {
      expect(decodeBitmap(one.proc_abs_64bit, 64, bitmapBits.ABS)).toEqual({ kind: 'codes', codes: axes });
      expect(decodeBitmap(one.proc_abs_32bit, 32, bitmapBits.ABS)).toEqual({ kind: 'codes', codes: axes });
    }
  });

  it('is read whole', () => {
    const { value, findings } = readCapture({
      name: 'capture',
      text: `capture: 1\nword-size: 64\n== inputs\n${one.proc_text_64bit}\n`,
    });
    expect(findings).toEqual([]);
    const [input] = value?.inputs ?? [];
    expect(input?.keys.map(({ number }) => number)).toEqual(keys);
    expect(input?.axes.map(({ number }) => number)).toEqual(axes);
    const identity = value?.inputs.find(({ name }) => name === 'pad')?.identity;
    expect(identity).toEqual({
      bus: Number.parseInt(one.bus, 16),
      vendor: Number.parseInt(one.vendor, 16),
      product: Number.parseInt(one.product, 16),
      version: Number.parseInt(one.version, 16),
      name: one.name,
    });
  });
});

it('prints and decodes any set of codes, in both word sizes', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.integer({ min: 0, max: bitmapBits.KEY - 1 })),
      fc.constantFrom(32 as const, 64 as const),
      (codes, wordSize) => {
        expect(decodeBitmap(encodeBitmap(codes, wordSize), wordSize, bitmapBits.KEY)).toEqual({
          kind: 'codes',
          codes: codes.toSorted((a, b) => a - b),
        });
      },
    ),
    { numRuns: runs },
  );
});
