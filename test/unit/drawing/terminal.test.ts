import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawControls } from '../../../src/drawing/terminal.ts';
import { positions } from '../../../src/vocabulary/positions.ts';

const bodies = ['upright', 'wide', 'folding'] as const;

describe('drawControls', () => {
  it('draws the chord of a wide device', () => {
    const has = [
      'mode',
      'start',
      'south',
      'east',
      'west',
      'north',
      'dpad-up',
      'dpad-down',
      'dpad-left',
      'dpad-right',
      'shoulder-left',
      'shoulder-right',
      'select',
    ];
    expect(drawControls({ body: 'wide', has, marked: ['mode', 'start'] })).toEqual([
      '+-----------------------------------------+',
      '|     [ ]                         [ ]     |',
      '|     [ ]     ### ### ### ###     [ ]     |',
      '| [ ]     [ ] ### ### ### ### [ ]     [ ] |',
      '|     [ ]     ### ### ### ###     [ ]     |',
      '|     [ ]     ### ### ### ###     [2]     |',
      '|                 [1]                     |',
      '+-----------------------------------------+',
      '1 mode   2 start',
    ]);
  });

  it('draws bodies differently', () => {
    const pictures = bodies.map((body) => drawControls({ body, has: positions, marked: [] }).join('\n'));
    expect(new Set(pictures).size).toBe(3);
  });

  it('marks each control that it draws once, none that the device lacks, and keeps its lines even', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...bodies),
        fc.subarray([...positions]),
        fc.subarray([...positions], { maxLength: 3 }),
        (body, has, marked) => {
          const lines = drawControls({ body, has, marked });
          const picture = lines.filter((line) => /^[|+]/.test(line));
          expect(new Set(picture.map((line) => line.length)).size).toBe(1);
          const legend = marked.length === 0 ? '' : (lines.at(-1) ?? '');
          marked.forEach((position, k) => {
            const times = picture.join('').match(new RegExp(`[[(]\\d*${k + 1}\\d*[\\])]`, 'g'))?.length ?? 0;
            expect(times).toBe(legend.includes(`${position} (not drawn)`) ? 0 : 1);
            if (!has.includes(position)) expect(times).toBe(0);
          });
        },
      ),
      { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) },
    );
  });
});
