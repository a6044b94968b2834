import fc from 'fast-check';
import { formats } from './formats.ts';
import { choiceAt, optionAt, pool } from './pool.ts';

/** `cores` is one file for each core, named by its id. */
export type FileName = 'main' | 'other' | 'cores';

/** A setting of the world: where each of the three dialect-and-frontend ages has it, and what is shipped there. */
export interface Placed {
  readonly pool: number;
  /** Frontend 1, frontend 2, and frontend 1 as the dialect's next version has it; the key's name follows from the age. */
  readonly file: { readonly one: FileName; readonly two: FileName; readonly redone: FileName };
  readonly movesAtTwo: boolean;
  readonly redoneMoves: boolean;
  readonly anewAtTwo: boolean;
  /** `both`: the dialect's next version reads the old texts too. */
  readonly redoneAnew: 'no' | 'only' | 'both';
  /** Index of a value; undefined: the stock file lacks the key. */
  readonly stock: { readonly one: number | undefined; readonly two: number | undefined };
  /** What the card has before we come; undefined: as the stock file has it. */
  readonly found: number | undefined;
  readonly wanted: number | undefined;
  /** `keep`: as before; `drop`: the profile lets it go. */
  readonly then: number | 'keep' | 'drop';
}

/** What happens between two writes, in this order; `at` counts instances, settings or unowned keys, wrapping round. */
export type Event =
  | {
      readonly kind: 'update';
      /** Laid anew as they ship; the others are carried on. */
      readonly resets: readonly FileName[];
      /** Values of files that are carried on are spelled anew, where they are. */
      readonly respells: boolean;
      /** Files that have another path now lie at the old one too. */
      readonly leaves: boolean;
    }
  | { readonly kind: 'dialect' }
  | { readonly kind: 'reset-file'; readonly instance: number; readonly file: FileName }
  | { readonly kind: 'hand'; readonly instance: number; readonly at: number; readonly value: number }
  | { readonly kind: 'take-out'; readonly instance: number; readonly at: number }
  | { readonly kind: 'respell'; readonly instance: number; readonly at: number }
  | { readonly kind: 'unowned'; readonly instance: number; readonly file: FileName; readonly at: number }
  | { readonly kind: 'remove-file'; readonly instance: number; readonly file: FileName };

export interface Scenario {
  readonly formats: Readonly<Record<FileName, number>>;
  readonly instances: 1 | 2;
  readonly settings: readonly Placed[];
  readonly events: readonly Event[];
  /** By what the dialect tells of a key that another version calls otherwise, and of a value that it spells otherwise. */
  readonly movesBy: 'versions' | 'moved';
  /** What frontend 2 calls otherwise: files, the folder of two of them, and a core. */
  readonly renames: { readonly files: readonly FileName[]; readonly folder: boolean; readonly core: boolean };
  /** Files that the dialect's next version has elsewhere. */
  readonly redoneFiles: readonly FileName[];
}

const all: FileName[] = ['main', 'other', 'cores'];
const file = fc.constantFrom<FileName>(...all);
const value = fc.nat(2);
const maybe = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(one, { nil: undefined, freq: 4 });

const placed = (poolIndex: number): fc.Arbitrary<Placed> => {
  const own = poolIndex === optionAt ? file : fc.constantFrom<FileName>('main', 'other');
  return fc.record({
    pool: fc.constant(poolIndex),
    file: fc.record({ one: own, two: own, redone: own }),
    movesAtTwo: fc.boolean(),
    redoneMoves: fc.boolean(),
    anewAtTwo: fc.boolean(),
    redoneAnew: fc.constantFrom('no' as const, 'only' as const, 'both' as const),
    stock: fc.record({ one: maybe(value), two: maybe(value) }),
    found: fc.option(value, { nil: undefined, freq: 1 }),
    wanted: maybe(value),
    then: fc.oneof(fc.constant('keep' as const), fc.constant('drop' as const), value),
  });
};

const instance = fc.nat(1);
const event: fc.Arbitrary<Event> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constant('update' as const),
      resets: fc.subarray<FileName>(all),
      respells: fc.boolean(),
      leaves: fc.boolean(),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('dialect' as const) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('reset-file' as const), instance, file }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('hand' as const), instance, at: fc.nat(7), value }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('take-out' as const), instance, at: fc.nat(7) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('respell' as const), instance, at: fc.nat(7) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('unowned' as const), instance, file, at: fc.nat(5) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('remove-file' as const), instance, file }) },
);

const format = fc.nat(formats.length - 1);

export const scenarios: fc.Arbitrary<Scenario> = fc
  .record({
    formats: fc.record({ main: format, other: format, cores: format }),
    instances: fc.constantFrom(1 as const, 2 as const),
    settings: fc
      .subarray([...pool.keys()], { minLength: 2 })
      .chain((indexes) => fc.tuple(...indexes.map((index) => placed(index)))),
    events: fc.array(event, { maxLength: 6 }),
    movesBy: fc.constantFrom('versions' as const, 'moved' as const),
    renames: fc.record({ files: fc.subarray<FileName>(['main', 'other']), folder: fc.boolean(), core: fc.boolean() }),
    redoneFiles: fc.subarray<FileName>(['main', 'other']),
  })
  // A core runs on the first instance that has it: one is enough to ask which.
  .map((scenario) =>
    scenario.settings.some((one) => one.pool === choiceAt) ? { ...scenario, instances: 1 } : scenario,
  );
