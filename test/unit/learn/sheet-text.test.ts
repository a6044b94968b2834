import { describe, expect, it } from 'vitest';
import { makeSheet } from '../../../src/learn/sheet/make-sheet.ts';
import { sheetText } from '../../../src/report/sheet-text.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { settings } from '../../../src/vocabulary/registry.ts';

const names = {
  device: 'Fen',
  frontend: 'Harrow',
  labels: new Map([['south', 'B']]),
  hold: 'Fn',
  openMenu: 'L1',
  script: 'bring.sh',
};
const text = sheetText(makeSheet({ settings, controls: positions, stays: ['mode', 'shoulder-left'] }), names, [], 80);

describe('sheetText', () => {
  it('fits 80 columns', () => {
    expect(text.split('\n').filter((line) => line.length > 80)).toEqual([]);
  });

  it('speaks in the words of a menu, without ids', () => {
    for (const { id } of settings) expect(text).not.toContain(id);
    expect(text).not.toMatch(/\{|\}|undefined/);
    expect(text).toContain('[ ] leave the game: B (of the four buttons on the right, the lowest)');
  });

  it('ends each copy by leaving the program and running the script, and comes last to putting back', () => {
    expect(text.match(/\[ \] Copy \d+/g)).toHaveLength(text.split('and run bring.sh.').length - 1);
    expect(text.trimEnd().split('\n\n').at(-1)).toMatch(/^\[ \] Last: put back/);
  });
});
