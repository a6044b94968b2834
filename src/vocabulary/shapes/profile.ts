import { Type } from '@sinclair/typebox';
import type { Static, TObject } from '@sinclair/typebox';
import { fingers } from '../fingers.ts';
import type { Finger } from '../fingers.ts';
import { pinnable } from '../pinnable.ts';
import { positions } from '../positions.ts';
import { mostPoints, refitTerms } from '../refit-terms.ts';
import type { RefitTerm } from '../refit-terms.ts';
import { NumberingShape } from './dialect.ts';
import type { NumberingWritten } from './dialect.ts';
import { flag, formatOne, named, optional, part, text, textOrTexts, texts, whole, word } from './kinds.ts';

const closed = { additionalProperties: false } as const;

/** A reference to one control in a profile. */
export type ControlWritten = string | { readonly label: string };

export interface ListedControlWritten {
  readonly label?: string;
  readonly code?: string | readonly string[];
}

const PartShape = Type.Object(
  {
    filesystem: optional(text('File system of the part.', { examples: ['fat32', 'exfat', 'ext4'] })),
    capacity: optional(text('Size with unit, or unknown.', { examples: ['128 GB'] })),
    'allocation-unit': optional(text('Cluster size with unit, or unknown.', { examples: ['32 KiB'] })),
    'mounted-at': optional(text('Where the device mounts it.', { examples: ['/media/games'] })),
    'games-root': optional(text('Folder of the games.')),
    'firmware-root': optional(text('Folder of the firmware.')),
    'survives-reimage': optional(flag('Kept when the system is imaged anew.')),
  },
  { ...closed, description: 'A part of the card.' },
);

const ListedControlShape = Type.Unsafe<ListedControlWritten>({
  type: 'object',
  properties: {
    label: { type: 'string', description: 'What is printed on it.' },
    code: {
      type: ['string', 'array'],
      items: { type: 'string' },
      description: 'What it sends: `[input/]NAME[+|-]`; several where one control sends several.',
      examples: ['BTN_SOUTH', 'ABS_HAT0X-', ['BTN_TR2', 'ABS_RZ+']],
    },
  },
  additionalProperties: false,
  description: 'One control.',
});

const WeightsShape = Type.Unsafe<Readonly<Partial<Record<RefitTerm, number>>>>({
  type: 'object',
  description: 'Points of each thing that a refit would rather not do, where they are to be others.',
  properties: Object.fromEntries(
    refitTerms.map(({ name, points, counts }) => [
      name,
      { type: 'number', minimum: 0, maximum: mostPoints, description: counts, examples: [points] },
    ]),
  ),
  additionalProperties: false,
});

const ControlsShape = Type.Unsafe<DeviceControlsWritten>({
  type: 'object',
  description: 'The controls, by position; `capture` or `codes` say all that each input can send.',
  properties: {
    capture: { type: 'string', description: 'Capture file, relative to this file.' },
    codes: named({ type: 'array', items: { type: 'string' } }, 'By input: every event code that it can send.'),
    ...Object.fromEntries(positions.map((position) => [position, part('listed-control')])),
  },
  additionalProperties: false,
});

export interface DeviceControlsWritten {
  readonly capture?: string;
  readonly codes?: Readonly<Record<string, readonly string[]>>;
  readonly [position: string]: ListedControlWritten | string | Readonly<Record<string, readonly string[]>> | undefined;
}

const InstanceShape = Type.Object(
  {
    dialect: text('Dialect and range, or a file.', { examples: ['harrow@^1.4'] }),
    version: text('Version of the frontend, or unknown.'),
    root: text('`part:folder` of its files.', { examples: ['settings:hall'] }),
    bits: optional(Type.Unsafe<32 | 64>({ type: 'integer', enum: [32, 64], description: 'Word size of this copy.' })),
    cores: optional(named<string>({ type: 'string' }, 'Installed cores and their versions.')),
    numbering: optional(part<NumberingWritten>('numbering', "Overrides the dialect's numbering.")),
  },
  { ...closed, description: 'One installed copy of a frontend.' },
);

const DeviceShape = Type.Object(
  {
    os: optional(part<InstanceWritten>('instance', 'The operating system, an instance too.')),
    body: optional(word(['upright', 'wide', 'folding'], 'Which finger reaches what.')),
    hands: optional(
      Type.Unsafe<Readonly<Record<string, Finger>>>({
        type: 'object',
        properties: Object.fromEntries(positions.map((position) => [position, part('finger')])),
        additionalProperties: false,
        description: 'Which finger reaches a control, where the body does not say it.',
        examples: [{ mode: 'left-thumb' }],
      }),
    ),
    performance: optional(whole('1 slowest to 5 fastest.', { minimum: 1, maximum: 5 })),
    screen: optional(
      Type.Object(
        {
          width: optional(whole('Width in pixels.', { minimum: 1 })),
          height: optional(whole('Height in pixels.', { minimum: 1 })),
          diagonal: optional(text('Diagonal with its unit, in or cm.', { examples: ['3.1 in'] })),
        },
        { ...closed, description: 'The screen of the device.' },
      ),
    ),
    wifi: optional(word(['none', 'adapter', 'built-in'], 'Wi-Fi.')),
    parts: optional(named<PartWritten>(part('part'), 'The parts of the card, by name.')),
    controls: optional(part<DeviceControlsWritten>('device-controls')),
    reserved: optional(
      Type.Array(
        Type.Object(
          {
            press: Type.Unsafe<readonly ControlWritten[]>({
              type: 'array',
              items: { $ref: '#/$defs/control' },
              minItems: 1,
              description: 'The controls pressed together.',
            }),
            does: text('What it does.'),
            loses: optional(texts('What is lost by it, by action or setting.', { examples: [['state-on-exit']] })),
          },
          closed,
        ),
        { description: 'Chords that the operating system takes.' },
      ),
    ),
  },
  { ...closed, description: 'The handheld.' },
);

const ForShape = Type.Object(
  {
    frontend: optional(textOrTexts('Instance or dialect.')),
    core: optional(textOrTexts('Core.')),
    system: optional(textOrTexts('Game system.')),
    game: optional(textOrTexts("Path in the system's folder.")),
  },
  { ...closed, minProperties: 1, description: 'What it reaches; values may be lists.' },
);

/**
 * Members of a profile that are not settings sections. The sections (`hotkeys`, `saves`, …), and those of an `only`
 * block, are generated from the registry and added by the schema generator.
 */
export const profileMembers = {
  format: formatOne,
  name: optional(text('Name to show.')),
  extends: optional(textOrTexts('A file or package, or a list, later over earlier.')),
  catalog: optional(text('Catalog and range, or a file.', { examples: ['shelf@1'] })),
  device: optional(part<DeviceWritten>('device')),
  frontends: optional(
    named<InstanceWritten>(part('instance'), 'The installed copies of frontends, by a name of your own.'),
  ),
  // The sections that a block may hold are added by the generator.
  only: optional(
    Type.Array(
      Type.Object({ for: part<ForWritten>('for') }, { description: 'A block of settings for what it names.' }),
      {
        description: 'What holds for less than the whole device: a frontend, a core, a game system or a game.',
      },
    ),
  ),
  allow: optional(
    Type.Array(
      Type.Object(
        {
          finding: text('Finding code.'),
          for: optional(textOrTexts('Instance, action or setting.')),
          because: text('The reason.'),
        },
        closed,
      ),
      { description: 'Findings that are intended.' },
    ),
  ),
  extra: optional(part<Readonly<Record<string, Readonly<Record<string, Readonly<Record<string, string>>>>>>>('extra')),
  refit: optional(
    Type.Object(
      {
        pin: optional(
          Type.Unsafe<readonly string[]>({
            type: 'array',
            items: { type: 'string', enum: pinnable },
            description: 'Actions that stay on their controls; hold for the hold control.',
            examples: [['exit-game']],
          }),
        ),
        weights: optional(WeightsShape),
      },
      { ...closed, description: 'How hotkeys are moved to another device.' },
    ),
  ),
} as const;

/** Parts of the schema of profile and house that stand in its `$defs`, beside those of the settings. */
export const profileParts = {
  device: DeviceShape,
  instance: InstanceShape,
  part: PartShape,
  'device-controls': ControlsShape,
  'listed-control': ListedControlShape,
  finger: word(fingers, 'The finger that reaches the control.'),
  numbering: NumberingShape,
  for: ForShape,
  extra: Type.Unsafe<unknown>({
    type: 'object',
    description:
      'Raw keys by instance and file, for what the vocabulary lacks. They are owned and merged like the rest.',
    additionalProperties: {
      type: ['object', 'null'],
      additionalProperties: { type: ['object', 'null'], additionalProperties: { type: ['string', 'null'] } },
    },
  }),
} as const;

/** A profile or house as read: the fixed members typed, the settings sections by the registry. */
export type LayerWritten = Static<TObject<typeof profileMembers>> & {
  readonly profile?: string;
  readonly house?: string;
};
export type DeviceWritten = Static<typeof DeviceShape>;
export type InstanceWritten = Static<typeof InstanceShape>;
export type ForWritten = Static<typeof ForShape>;
export type PartWritten = Static<typeof PartShape>;
