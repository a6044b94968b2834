import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawDevice } from '../../../src/drawing/svg.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { requireTool } from '../../support/tool.ts';

const bodies = ['upright', 'wide', 'folding'] as const;
const pictures = fc.record({
  name: fc
    .string({ unit: 'binary' })
    .filter((text) => !/[^\t\n\r\x20-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u.test(text)),
  body: fc.constantFrom(...bodies, undefined),
  controls: fc
    .subarray([...positions])
    .map((has) => new Map(has.map((position) => [position, position === 'south' ? '<&">' : undefined] as const))),
  marked: fc
    .subarray([...positions], { maxLength: 4 })
    .map((marked) => new Map(marked.map((position, k) => [position, [k + 1]] as const))),
});

describe('drawDevice', () => {
  it('marks each control that is there and has a place in the layout, once, and refers to nothing outside', () => {
    fc.assert(
      fc.property(pictures, (device) => {
        const svg = drawDevice(device);
        const numbers = [...svg.matchAll(/class="on-marked"[^>]*>([\d ]+)</g)].flatMap(([, text = '']) =>
          text.split(' '),
        );
        expect(new Set(numbers).size).toBe(numbers.length);
        for (const [position, [number]] of device.marked)
          if (!device.controls.has(position)) expect(numbers).not.toContain(String(number));
          else if (/^(north|mode|start|dpad-up|thumb-left)$/.test(position)) expect(numbers).toContain(String(number));
        expect(svg).not.toMatch(/<script|href|url\(|@import/);
      }),
    );
  });

  it.skipIf(requireTool('xmllint', 'libxml2-utils'))('is well-formed XML, whatever the names are (xmllint)', () => {
    const all = fc.sample(pictures, { numRuns: 40, seed: 7 }).map((device) => drawDevice(device));
    const read = spawnSync('xmllint', ['--noout', '-'], { input: `<all>${all.join('\n')}</all>`, encoding: 'utf8' });
    expect(read.stderr).toBe('');
    expect(read.status).toBe(0);
  });
});
