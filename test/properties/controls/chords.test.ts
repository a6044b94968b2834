import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canPressTogether, fingersOf } from '../../../src/controls/chords/fingers.ts';
import { findConflicts } from '../../../src/controls/chords/find-conflicts.ts';
import type { BoundPress } from '../../../src/controls/chords/find-conflicts.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

const press = fc.record({
  instance: fc.option(fc.constantFrom('a', 'b'), { nil: undefined, freq: 5 }),
  action: fc.constantFrom('exit-game', 'open-menu', 'load-state', 'save-state', 'pause'),
  // Few positions, so that chords meet.
  positions: fc.uniqueArray(
    fc.constantFrom<Position>(
      'mode',
      'south',
      'east',
      'west',
      'dpad-up',
      'dpad-left',
      'shoulder-left',
      'shoulder-right',
      'trigger-left',
      'select',
    ),
    { minLength: 1, maxLength: 3 },
  ),
  hold: fc.constant(undefined),
  fires: fc.constantFrom<'press' | 'release'>('press', 'release'),
  destructive: fc.boolean(),
  frequent: fc.boolean(),
});

/** Around the square of the four buttons and the cross, one step; and the shoulder pairs (vocabulary.md, Chords). */
const ring = [
  ['south', 'east', 'north', 'west'],
  ['dpad-up', 'dpad-right', 'dpad-down', 'dpad-left'],
];
function besideByRing(a: string, b: string): boolean {
  const square = ring.some(
    (four) => four.includes(a) && four.includes(b) && (four.indexOf(a) - four.indexOf(b)) % 2 !== 0,
  );
  const pair =
    a !== b &&
    /^(shoulder|trigger)-/.exec(a)?.[1] !== undefined &&
    a.replace(/-.*/, '') === b.replace(/-.*/, '') &&
    /^(shoulder|trigger)-/.test(b);
  return square || pair;
}

/** Every ordered pair, judged with bit sets and nothing of the code under test. */
function bruteForce(all: readonly BoundPress[]): readonly string[] {
  const bits = (one: BoundPress): bigint =>
    one.positions.reduce((set, position) => set | (1n << BigInt(positions.indexOf(position))), 0n);
  const found: string[] = [];
  all.forEach((a, i) => {
    all.forEach((b, j) => {
      if (i === j) return;
      const os = [a, b].filter((one) => one.instance === undefined).length;
      if (os === 2) return;
      const [x, y] = [bits(a), bits(b)];
      const sameProgram = os === 0 && a.instance === b.instance;
      if (os === 0 && !sameProgram) {
        if (i < j && a.action === b.action && x !== y) found.push(`differs ${i} ${j}`);
        return;
      }
      if (sameProgram && a.action === b.action) return;
      if (x === y) {
        if (sameProgram && i < j) found.push(`two-actions ${i} ${j}`);
        if (os === 1 && a.instance !== undefined) found.push(`reserved ${i} ${j}`);
        return;
      }
      if ((x & y) === x && a.fires === 'press') found.push(`inside ${i} ${j}`);
      const only = (set: bigint): Position | undefined => {
        const members = positions.filter((_, k) => ((set >> BigInt(k)) & 1n) === 1n);
        return members.length === 1 ? members[0] : undefined;
      };
      const [p, q] = [only(x & ~y), only(y & ~x)];
      if (sameProgram && a.destructive && b.frequent && p !== undefined && q !== undefined && besideByRing(p, q))
        found.push(`beside ${i} ${j}`);
    });
  });
  return found.sort();
}

describe('findConflicts', () => {
  it('misses no conflict and invents none', () => {
    fc.assert(
      fc.property(fc.array(press, { maxLength: 12 }), (all) => {
        const found = findConflicts(all, 'wide', {}).flatMap((conflict) => {
          switch (conflict.kind) {
            case 'two-actions':
            case 'differs':
              return [`${conflict.kind} ${conflict.a} ${conflict.b}`];
            case 'reserved':
              return [`reserved ${conflict.press} ${conflict.reserved}`];
            case 'inside':
              return [`inside ${conflict.shorter} ${conflict.longer}`];
            case 'beside':
              return [`beside ${conflict.destructive} ${conflict.frequent}`];
            case 'same-finger':
            case 'unguarded':
              return [];
          }
        });
        expect(found.sort()).toEqual(bruteForce(all));
      }),
      { numRuns: runs },
    );
  });

  it('gives every chord that can be pressed a finger for each control, and no other', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.constantFrom(...positions), { minLength: 1, maxLength: 4 }),
        fc.constantFrom('upright' as const, 'wide' as const, 'folding' as const),
        (chord, body) => {
          // Hall's theorem: each has a finger of its own when any k of them can be reached by at least k fingers.
          const able =
            chord.flatMap((position) => fingersOf(position, body, {}) ?? []).length === 0
              ? []
              : chord.map((position) => fingersOf(position, body, {})).filter((set) => set !== undefined);
          let hall = true;
          for (let subset = 1; subset < 1 << able.length; subset++) {
            const chosen = able.filter((_, k) => ((subset >> k) & 1) === 1);
            if (new Set(chosen.flat()).size < chosen.length) hall = false;
          }
          expect(canPressTogether(chord, body, {})).toBe(hall);
        },
      ),
      { numRuns: runs },
    );
  });

  it('tells bodies apart, and takes the word of the profile', () => {
    expect(canPressTogether(['shoulder-left', 'trigger-left'], 'wide', {})).toBe(true);
    expect(canPressTogether(['shoulder-left', 'trigger-left'], 'folding', {})).toBe(false);
    expect(canPressTogether(['mode', 'dpad-up'], 'upright', {})).toBe(true);
    expect(canPressTogether(['mode', 'dpad-up'], 'upright', { mode: 'left-thumb' })).toBe(false);
    expect(canPressTogether(['select', 'start'], 'wide', {})).toBe(true);
    expect(canPressTogether(['south', 'volume-up'], 'upright', {})).toBe(true);
  });
});
