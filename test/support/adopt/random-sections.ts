import fc from 'fast-check';
import type { Measure, SettingDefinition } from '../../../src/vocabulary/types.ts';
import { settings } from '../../../src/vocabulary/registry.ts';

type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };
export type Sections = { readonly [name: string]: Json };

/** Amounts that a person might write, by measure. */
const amounts: Readonly<Record<Measure, readonly string[]>> = {
  time: ['0 ms', '8 ms', '64 ms', '96 ms', '1500 ms', '10 s', '20 s', '90 s', '2 min', '10 min', '1 h'],
  size: ['16 MiB', '64 MiB', '20 MB', '1 GiB'],
  multiplier: ['0.5 x', '0.25 x', '1.5 x', '2 x', '4 x', '10 x'],
  percent: ['0 %', '2 %', '12 %', '30 %', '80 %', '100 %'],
  rate: ['100 / day', '500 / day', '480 / day'],
  gain: ['-6 dB', '0 dB', '3 dB'],
};

/** Of the demo's Tarn and Fen both. */
const positions = [
  'south',
  'east',
  'west',
  'north',
  'shoulder-left',
  'shoulder-right',
  'start',
  'select',
  'mode',
] as const;
const position = fc.constantFrom(...positions);
const games = ['burdock/marsh-walk.leaf', 'burdock/reed-song.leaf', 'orrery/tin-comet.brass', 'lathe/test-disc.sheet'];
const systems = ['burdock', 'orrery', 'lathe', 'ferrule'];
const text = fc.oneof(
  fc.constantFrom(
    'plain',
    'dark',
    'two words',
    'no',
    '4.0',
    'null',
    "it's",
    '#1',
    'a: b',
    'ü',
    '- x',
    '"q"',
    '\\n',
    ' [x]',
  ),
  fc.string({ unit: 'grapheme-ascii', minLength: 1, maxLength: 8 }),
);

function valueOf({ type }: SettingDefinition): fc.Arbitrary<Json> | undefined {
  switch (type.kind) {
    case 'boolean':
      return fc.boolean();
    case 'word':
      return fc.constantFrom(...type.of);
    case 'number':
      return fc.integer({ min: type.min ?? 0, max: Math.min(type.max ?? 40, (type.min ?? 0) + 40) });
    case 'quantity':
      return fc.constantFrom(...amounts[type.measure], ...(type.words ?? []));
    case 'text':
      return type.pattern === undefined ? text : fc.constantFrom(...type.examples);
    case 'secret':
      // What is compiled over a card never holds its passwords, so that they are told of in cases of their own.
      return undefined;
    case 'control':
      return fc.oneof(position, fc.uniqueArray(position, { minLength: 1, maxLength: 3 }), fc.constant('none'));
    case 'bind': {
      const manner = type.whiles ? fc.constantFrom({}, { while: 'held' }, { while: 'toggled' }) : fc.constant({});
      const wishes = fc.oneof(position, fc.uniqueArray(position, { minLength: 1, maxLength: 3 }));
      return fc.oneof(
        position,
        fc.constant('none'),
        fc.tuple(wishes, manner).map(([control, how]) => ({ control, ...how })),
        fc
          .tuple(fc.uniqueArray(position, { minLength: 2, maxLength: 3 }), manner)
          .map(([chord, how]) => ({ chord, ...how })),
        position.map((alone) => ({ alone })),
      );
    }
    case 'place':
      return fc.constantFrom('games:kept', 'games:kept/deep', 'settings:kept');
    case 'words':
      return fc.subarray([...type.of], { minLength: 1 });
    case 'texts':
      return fc.subarray(type.of === 'game' ? games : type.of === 'system' ? systems : ['en', 'de', 'fr'], {
        minLength: 1,
      });
    case 'cores':
      return fc.record(
        {
          burdock: fc.shuffledSubarray(['thrush', 'dunnock'], { minLength: 1 }),
          orrery: fc.shuffledSubarray(['plover', 'dunlin'], { minLength: 1 }),
        },
        { requiredKeys: [] },
      );
    case 'options':
      return fc.record({ thrush: fc.record({ voice: text, reed: text }, { requiredKeys: [] }) });
    case 'lists':
      return fc.record(
        { rainy: fc.subarray(games, { minLength: 1 }), sunny: fc.subarray(games, { minLength: 1 }) },
        { requiredKeys: [] },
      );
    case 'networks':
      return undefined;
  }
}

const known = settings.flatMap((setting) => {
  const value = valueOf(setting);
  return value === undefined ? [] : [{ setting, value }];
});

/** Sections of a layer with some settings. `among`: the settings to choose from. */
function sections(among: ReadonlySet<string>, most: number): fc.Arbitrary<Sections> {
  const fitting = known.filter(({ setting }) => among.has(setting.id));
  if (fitting.length === 0) return fc.constant({});
  return fc
    .uniqueArray(fc.constantFrom(...fitting), { maxLength: most, selector: ({ setting }) => setting.id })
    .chain((chosen) => fc.tuple(...chosen.map(({ setting, value }) => value.map((v) => [setting.id, v] as const))))
    .map((pairs) => {
      const made: Record<string, Json> = {};
      for (const [id, value] of pairs) put(made, id.split('.'), value);
      return made;
    });
}

function put(into: Record<string, Json>, [first = '', ...rest]: readonly string[], value: Json): void {
  if (rest.length === 0) {
    into[first] = value;
    return;
  }
  const below = into[first];
  const members: Record<string, Json> =
    typeof below === 'object' && below !== null && !Array.isArray(below) ? { ...(below as Record<string, Json>) } : {};
  put(members, rest, value);
  into[first] = members;
}

/** A profile over a house: sections of each, and blocks. */
export interface Layers {
  readonly house: Sections;
  readonly profile: Sections;
  readonly only: readonly { readonly for: Sections; readonly sections: Sections }[];
}

/** `narrow`: the settings that may be given for one system, since the dialects can say them so. */
function layers(
  among: ReadonlySet<string>,
  narrow: ReadonlySet<string>,
  frontends: readonly string[],
  most = 8,
): fc.Arbitrary<Layers> {
  const block = fc.oneof(
    fc.record({ for: fc.constantFrom(...frontends).map((frontend) => ({ frontend })), sections: sections(among, 3) }),
    fc.record({
      for: fc.constantFrom('burdock', 'orrery').map((system) => ({ system })),
      sections: sections(narrow, 2),
    }),
    fc.record({
      for: fc
        .tuple(fc.constantFrom(...frontends), fc.constantFrom('burdock', 'orrery'))
        .map(([frontend, system]) => ({ frontend, system })),
      sections: sections(narrow, 2),
    }),
  );
  return fc.record({
    house: sections(among, most),
    profile: sections(among, 4),
    only: fc.uniqueArray(block, { maxLength: 2, selector: (one) => JSON.stringify(one.for) }),
  });
}

/** Two profiles that speak of the same few settings, so that they differ in many. */
export function twoLayers(
  among: ReadonlySet<string>,
  narrow: ReadonlySet<string>,
  frontends: readonly string[],
): fc.Arbitrary<readonly [Layers, Layers]> {
  const ids = known.map(({ setting }) => setting.id).filter((id) => among.has(id));
  return fc.uniqueArray(fc.constantFrom(...ids), { minLength: 4, maxLength: 12 }).chain((chosen) => {
    const few = new Set(chosen);
    const some = layers(few, new Set(chosen.filter((id) => narrow.has(id))), frontends);
    return fc.tuple(some, some);
  });
}
