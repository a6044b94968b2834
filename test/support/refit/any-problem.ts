import fc from 'fast-check';
import type { Habit, HandsOn, HoldHabit, RefitProblem, Standing } from '../../../src/compare/refit/problem.ts';
import { refitTerms } from '../../../src/vocabulary/refit-terms.ts';
import type { RefitWeights } from '../../../src/vocabulary/refit-terms.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';

export const standardWeights: RefitWeights = Object.fromEntries(
  refitTerms.map(({ name, points }) => [name, points]),
) as Record<(typeof refitTerms)[number]['name'], number>;

/** The positions that most devices have, so that two random ones often share some. */
const usual: readonly Position[] = positions.filter((position) => !/^(power|lid|extra-[3-8]|stick-)/.test(position));

const labels = ['A', 'B', 'X', 'Y', 'L', 'R', 'Go'] as const;

function anyDevice(most: number): fc.Arbitrary<HandsOn> {
  return fc.record({
    body: fc.constantFrom('upright' as const, 'wide' as const, 'folding' as const, undefined),
    hands: fc.dictionary(fc.constantFrom(...usual), fc.constantFrom('left-thumb', 'right-index', 'right-thumb'), {
      maxKeys: 1,
    }),
    controls: fc
      .uniqueArray(
        fc.tuple(fc.constantFrom(...usual), fc.option(fc.constantFrom(...labels), { nil: undefined, freq: 3 })),
        { minLength: 1, maxLength: most, selector: ([position]) => position, size: 'max' },
      )
      .map((all) => new Map(all)),
  });
}

const actions = [
  'exit-game',
  'open-menu',
  'pause',
  'fast-forward',
  'save-state',
  'load-state',
  'reset-game',
  'screenshot',
  'mute',
] as const;

/** Two devices and the habits of one, on controls that it has; at most two frontends, so that habits may pass each other by. */
export function anyProblem(mostHabits: number, mostControls: number): fc.Arbitrary<RefitProblem> {
  return fc
    .record({
      from: anyDevice(mostControls),
      to: anyDevice(mostControls),
      habits: fc.uniqueArray(
        fc.record({
          action: fc.constantFrom(...actions),
          kind: fc.constantFrom<'with-hold' | 'alone' | 'chord' | 'pad'>(
            'with-hold',
            'with-hold',
            'with-hold',
            'with-hold',
            'alone',
            'chord',
            'pad',
          ),
          at: fc.array(fc.nat(999), { minLength: 3, maxLength: 3 }),
          spots: fc.constantFrom([0], [0], [0, 1], [1]),
          pinned: fc.constantFrom(false, false, false, true),
          wishes: fc.array(fc.nat(999), { maxLength: 2 }),
          not: fc.nat(12),
        }),
        { minLength: 1, maxLength: mostHabits, selector: ({ action }) => action, size: 'max' },
      ),
      hold: fc.option(fc.nat(999), { nil: undefined, freq: 6 }),
      now: fc.option(fc.nat(999), { nil: undefined }),
      split: fc.constantFrom(false, false, false, true),
      pinHold: fc.constantFrom(false, false, true),
      reserved: fc.array(fc.array(fc.nat(999), { minLength: 1, maxLength: 2 }), { maxLength: 2 }),
      onRelease: fc.subarray([0, 1]),
      standing: fc.array(
        fc.record({ at: fc.nat(999), kind: fc.constantFrom('with-hold' as const, 'alone' as const) }),
        {
          maxLength: 1,
        },
      ),
      weights: fc.constantFrom(standardWeights, standardWeights, {
        dropped: 50,
        moved: 7.5,
        beside: 3.25,
        unwished: 0,
        position: 2,
        label: 1,
        hand: 0.125,
        finger: 1,
        kind: 0,
      }),
    })
    .map((drawn): RefitProblem => {
      const known = [...drawn.from.controls.keys()];
      const there = [...drawn.to.controls.keys()];
      const of = (all: readonly Position[], k: number): Position => all[k % all.length] ?? 'south';
      const from = drawn.hold === undefined ? undefined : of(known, drawn.hold);
      const now = drawn.now === undefined ? undefined : of(there, drawn.now);
      const one = (id: string, spots: readonly number[]): HoldHabit => ({
        id,
        from,
        now,
        pinned: drawn.pinHold,
        spots,
      });
      return {
        from: drawn.from,
        to: drawn.to,
        // Two frontends may have a hold control each.
        holds: drawn.split
          ? [one('first', [0]), { ...one('other', [1]), from: now === undefined ? from : of(known, 1) }]
          : [one('both', [0, 1])],
        habits: drawn.habits.map(({ action, kind, at, spots, pinned, wishes, not }): Habit => {
          const chord = [...new Set(at.slice(0, 2).map((k) => of(known, k)))];
          const position = of(known, at[0] ?? 0);
          const forbidden = of(there, not);
          return {
            id: kind === 'pad' ? `pad ${action}` : action,
            action,
            press: kind === 'chord' ? { kind, positions: chord } : { kind, position },
            spots,
            wishes: [position, ...wishes.map((k) => of(usual, k))],
            pinned,
            destructive: kind !== 'pad' && ['load-state', 'reset-game'].includes(action),
            frequent: kind !== 'pad' && ['fast-forward', 'open-menu', 'pause', 'save-state'].includes(action),
            worth: pinned ? 100 : action === 'exit-game' ? 3 : 1,
            cannot: (is) => (not < 3 && is === forbidden ? 'no frontend can say it' : undefined),
          };
        }),
        standing: drawn.standing.map(({ at, kind }): Standing => ({
          action: 'cheats',
          press: { kind, position: of(there, at) },
          spots: [0],
          destructive: false,
          frequent: false,
        })),
        reserved: drawn.reserved.map((press) => [...new Set(press.map((k) => of(there, k)))]),
        onRelease: new Set(drawn.onRelease),
        weights: drawn.weights,
      };
    });
}
