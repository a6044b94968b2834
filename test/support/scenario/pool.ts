/** A value: as a profile has it, as a key holds it, and as the program may come to write it, meaning the same. */
export interface Value {
  readonly yaml: string;
  readonly text: string;
  readonly other: string;
  /** The two texts where values are spelled anew. */
  readonly anew: { readonly text: string; readonly other: string };
}

/** What a setting can be. */
export interface Pool {
  readonly id: string;
  /** The codec by its members, as YAML flow text, and the one that spells anew. `both` reads the old texts too. */
  readonly codec: string;
  readonly anew: { readonly codec: string; readonly both?: string };
  /** Whether texts can be spelled anew by a table of old and new ones; a number is by its unit. */
  readonly byTable: boolean;
  /** Two texts that the codec takes for one, whatever they mean. */
  readonly number?: true;
  readonly values: readonly Value[];
}

const switched = (id: string): Pool => ({
  id,
  codec: 'values: { true: ["on", "yes"], false: ["off", "no"] }',
  anew: {
    codec: 'values: { true: ["lit", "1"], false: ["out", "0"] }',
    both: 'values: { true: ["lit", "1", "on", "yes"], false: ["out", "0", "off", "no"] }',
  },
  byTable: true,
  values: [
    { yaml: 'true', text: 'on', other: 'yes', anew: { text: 'lit', other: '1' } },
    { yaml: 'false', text: 'off', other: 'no', anew: { text: 'out', other: '0' } },
  ],
});

const text = (id: string, words: readonly string[]): Pool => ({
  id,
  codec: 'text: "{{value}}"',
  anew: { codec: 'text: "the-{{value}}"' },
  byTable: true,
  values: words.map((word) => ({
    yaml: word,
    text: word,
    other: word,
    anew: { text: `the-${word}`, other: `the-${word}` },
  })),
});

const number = (id: string, codecs: readonly [string, string], values: readonly Value[]): Pool => ({
  id,
  codec: `number: ${codecs[0]}`,
  anew: { codec: `number: ${codecs[1]}` },
  byTable: false,
  number: true,
  values,
});

/** The place of one core's option and that of the core that a system is played by. */
export const [optionAt, choiceAt] = [6, 7];

export const pool: readonly Pool[] = [
  switched('saves.state-on-exit'),
  switched('saves.resume-on-start'),
  switched('display.whole-number-scaling'),
  number(
    'saves.write-save-every',
    ['{ unit: ms }', '{ unit: s }'],
    [
      { yaml: '10 s', text: '10000', other: '10000.000', anew: { text: '10', other: '10.0' } },
      { yaml: '5 s', text: '5000', other: '5000.0', anew: { text: '5', other: '5.00' } },
      { yaml: '60 s', text: '60000', other: '60000.0', anew: { text: '60', other: '60.0' } },
    ],
  ),
  number(
    'saves.state-slots.count',
    ['{}', '{ offset: -1 }'],
    [
      { yaml: '3', text: '3', other: '3.0', anew: { text: '2', other: '2.0' } },
      { yaml: '9', text: '9', other: '9.0', anew: { text: '8', other: '8.0' } },
      { yaml: '12', text: '12', other: '12.00', anew: { text: '11', other: '11.0' } },
    ],
  ),
  text('menus.theme', ['reed', 'heron', 'sallow']),
  { ...text('cores.options', ['mild', 'warm', 'bold']) },
  {
    id: 'cores.choice',
    codec: 'text: "{{core.id}}"',
    anew: { codec: 'values: { thrush: the-thrush, dunnock: the-dunnock, plover: the-plover }' },
    // Core ids have a table of their own.
    byTable: false,
    values: ['thrush', 'dunnock', 'plover'].map((core) => ({
      yaml: core,
      text: core,
      other: core,
      anew: { text: `the-${core}`, other: `the-${core}` },
    })),
  },
];
