import fc from 'fast-check';
import { formats } from './formats.ts';

/** What a setting can be: three values, each spelled in two ways that mean the same. */
export interface Pool {
  readonly id: string;
  /** The codec, as YAML flow text. */
  readonly codec: string;
  /** By value: as YAML has it, as a key has it, and as the program may come to write it. */
  readonly values: readonly { readonly yaml: string; readonly text: string; readonly other: string }[];
}

const onOff = [
  { yaml: 'true', text: 'on', other: 'yes' },
  { yaml: 'false', text: 'off', other: 'no' },
] as const;
const switched = (id: string): Pool => ({
  id,
  codec: 'values: { true: ["on", "yes"], false: ["off", "no"] }',
  values: onOff,
});

export const pool: readonly Pool[] = [
  switched('saves.state-on-exit'),
  switched('saves.resume-on-start'),
  switched('display.whole-number-scaling'),
  {
    id: 'saves.write-save-every',
    codec: 'number: { unit: ms }',
    values: [
      { yaml: '10 s', text: '10000', other: '10000.000' },
      { yaml: '5 s', text: '5000', other: '5000.0' },
      { yaml: '60 s', text: '60000', other: '60000.0' },
    ],
  },
  {
    id: 'saves.state-slots.count',
    codec: 'number: {}',
    values: [
      { yaml: '3', text: '3', other: '3.0' },
      { yaml: '9', text: '9', other: '9.0' },
      { yaml: '12', text: '12', other: '12.00' },
    ],
  },
  {
    id: 'menus.theme',
    codec: 'text: "{{value}}"',
    values: [
      { yaml: 'reed', text: 'reed', other: 'reed' },
      { yaml: 'heron', text: 'heron', other: 'heron' },
      { yaml: 'sallow', text: 'sallow', other: 'sallow' },
    ],
  },
];

export type FileName = 'main' | 'other';

/** A setting of the world: where each of the three dialect-and-frontend ages has it, and what is shipped there. */
export interface Placed {
  readonly pool: number;
  /** Frontend 1, frontend 2, and frontend 1 as the dialect's next version has it; the key's name follows from the age. */
  readonly file: { readonly one: FileName; readonly two: FileName; readonly redone: FileName };
  readonly movesAtTwo: boolean;
  readonly redoneMoves: boolean;
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
  | { readonly kind: 'update'; readonly resets: readonly FileName[] }
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
  /** By what the dialect tells of a key that another version calls otherwise. */
  readonly movesBy: 'versions' | 'moved';
}

const file = fc.constantFrom<FileName>('main', 'other');
const value = fc.nat(2);
const maybe = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(one, { nil: undefined, freq: 4 });

const placed = (poolIndex: number): fc.Arbitrary<Placed> =>
  fc.record({
    pool: fc.constant(poolIndex),
    file: fc.record({ one: file, two: file, redone: file }),
    movesAtTwo: fc.boolean(),
    redoneMoves: fc.boolean(),
    stock: fc.record({ one: maybe(value), two: maybe(value) }),
    found: fc.option(value, { nil: undefined, freq: 1 }),
    wanted: maybe(value),
    then: fc.oneof(fc.constant('keep' as const), fc.constant('drop' as const), value),
  });

const instance = fc.nat(1);
const event: fc.Arbitrary<Event> = fc.oneof(
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('update' as const), resets: fc.subarray<FileName>(['main', 'other']) }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('dialect' as const) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('reset-file' as const), instance, file }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('hand' as const), instance, at: fc.nat(5), value }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('take-out' as const), instance, at: fc.nat(5) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('respell' as const), instance, at: fc.nat(5) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('unowned' as const), instance, file, at: fc.nat(5) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('remove-file' as const), instance, file }) },
);

export const scenarios: fc.Arbitrary<Scenario> = fc.record({
  formats: fc.record({ main: fc.nat(formats.length - 1), other: fc.nat(formats.length - 1) }),
  instances: fc.constantFrom(1 as const, 2 as const),
  settings: fc
    .subarray([...pool.keys()], { minLength: 2 })
    .chain((indexes) => fc.tuple(...indexes.map((index) => placed(index)))),
  events: fc.array(event, { maxLength: 6 }),
  movesBy: fc.constantFrom('versions' as const, 'moved' as const),
});
