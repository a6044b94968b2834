import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeSheet } from '../../../src/learn/sheet/make-sheet.ts';
import { copiesFor, patterns } from '../../../src/learn/sheet/patterns.ts';
import type { Sheet } from '../../../src/model/sheet.ts';
import { firstTen } from '../../../src/vocabulary/first-ten.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { settings, settingById } from '../../../src/vocabulary/registry.ts';

const runs = { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) };

/** What every setting is at each copy, as told by the sheet: undefined until it is first told. */
function histories(sheet: Sheet): ReadonlyMap<string, readonly string[]> {
  const ids = new Set(sheet.copies.flatMap(({ changes }) => changes.map(({ setting }) => setting.id)));
  return new Map(
    [...ids].map((id) => {
      let now = '-';
      return [
        id,
        sheet.copies.map(({ changes, number }) => {
          const change = changes.find(({ setting }) => setting.id === id);
          if (change !== undefined) now = change.to === undefined ? `picked ${number}` : JSON.stringify(change.to);
          return now;
        }),
      ] as const;
    }),
  );
}

/** Which copies hold the same: letters in the order of their first use. */
function partition(history: readonly string[]): string {
  return history.map((value) => history.indexOf(value)).join(' ');
}

const wanted = fc.record({
  settings: fc.subarray([...settings]),
  controls: fc.subarray([...positions]),
  stays: fc.subarray([...positions], { maxLength: 2 }),
});

describe('makeSheet', () => {
  it('never moves what stays, and puts no two actions on one control in one copy', () => {
    fc.assert(
      fc.property(wanted, (input) => {
        for (const { changes } of makeSheet(input).copies) {
          const used = changes.flatMap(({ to }) =>
            to?.kind === 'press' && to.press.kind === 'with-hold' ? [to.press.position] : [],
          );
          expect(new Set(used).size).toBe(used.length);
          for (const position of used) {
            expect(input.controls).toContain(position);
            expect(input.stays).not.toContain(position);
          }
          expect(changes.map(({ setting }) => setting.id)).not.toContain('hotkeys.hold');
          expect(changes.map(({ setting }) => setting.id)).not.toContain('hotkeys.bind.open-menu');
        }
      }),
      runs,
    );
  });

  it('gives each action a sequence of controls of its own, and each switch copies that change as no other does', () => {
    fc.assert(
      fc.property(wanted, (input) => {
        const all = [...histories(makeSheet(input))];
        const hotkeys = all.filter(([id]) => id.startsWith('hotkeys.bind.')).map(([, history]) => history.join(' '));
        expect(new Set(hotkeys).size).toBe(hotkeys.length);
        const turned = all.filter(([id]) => ['boolean', 'word'].includes(settingById(id)?.type.kind ?? ''));
        const seen = turned.map(([, history]) => partition(history));
        expect(new Set(seen).size).toBe(seen.length);
      }),
      runs,
    );
  });

  it('tells or leaves out each setting that is asked for, never both, and is the same at every call', () => {
    fc.assert(
      fc.property(wanted, (input) => {
        const sheet = makeSheet(input);
        const told = new Set(histories(sheet).keys());
        const left = sheet.leftOut.map(({ setting }) => setting.id);
        expect([...told, ...left].sort()).toEqual(input.settings.map(({ id }) => id).sort());
        expect(makeSheet(input)).toEqual(sheet);
      }),
      runs,
    );
  });

  it('does the first ten of a wide device in few copies', () => {
    const ten = firstTen.flatMap((id) => settingById(id) ?? []);
    expect(ten).toHaveLength(10);
    const sheet = makeSheet({ settings: ten, controls: positions, stays: ['mode', 'shoulder-left'] });
    expect(sheet.copies.map(({ kind, changes }) => [kind, changes.length])).toEqual([
      ['idle', 0],
      ['idle-again', 0],
      ['hotkeys', 5],
      ['hotkeys', 5],
      ['switches', 3],
      ['switches', 2],
      ['switches', 2],
    ]);
  });

  it('asks a small device for no more than it has', () => {
    const sheet = makeSheet({ settings, controls: ['south', 'mode'], stays: ['mode'] });
    expect(sheet.copies.some(({ kind }) => kind === 'hotkeys')).toBe(false);
    expect(sheet.leftOut.find(({ setting }) => setting.id === 'hotkeys.bind.rewind')?.why).toMatch(/too few controls/);
  });
});

describe('patterns', () => {
  it('are as many as there are partitions (Stirling numbers of the second kind, NIST DLMF table 26.8.2)', () => {
    const table = [
      [4, 2, 7],
      [5, 2, 15],
      [5, 3, 25],
      [6, 3, 90],
      [6, 4, 65],
      [7, 5, 140],
    ] as const;
    for (const [length, choices, count] of table) expect(patterns(1e6, choices, length)).toHaveLength(count);
  });

  it('need as few copies as the numbers allow', () => {
    expect(copiesFor(new Map([[2, 7]]))).toBe(4);
    expect(copiesFor(new Map([[2, 8]]))).toBe(5);
    expect(copiesFor(new Map([[5, 1]]))).toBe(5);
    expect(copiesFor(new Map())).toBe(0);
  });
});
