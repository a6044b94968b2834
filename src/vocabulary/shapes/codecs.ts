import { Type } from '@sinclair/typebox';
import type { Static, TObject } from '@sinclair/typebox';
import { printedNames, templateNames } from '../template-names.ts';
import { flag, named, number, optional, part, text, whole, word } from './kinds.ts';

const closed = { additionalProperties: false } as const;

const NumberCodec = Type.Object(
  {
    unit: optional(text('Unit of the number in the file: ms, s, min, frames, B, KiB, MiB, %, x, dB, /day.')),
    scale: optional(number('Multiplied with the value in that unit.')),
    offset: optional(number('Added after scaling.')),
    step: optional(number("Rounded to a multiple of this, in the file's numbers. Default 1 (0 for no rounding).")),
    steps: optional(
      Type.Unsafe<readonly number[]>({
        type: 'array',
        items: { type: 'number' },
        description: 'The only numbers that the frontend takes.',
      }),
    ),
    min: optional(number('Least number in the file.')),
    max: optional(number('Greatest number in the file.')),
    rate: optional(
      Type.Unsafe<number | string>({
        type: ['number', 'string'],
        description: 'For unit frames: frames a second, or `system`.',
      }),
    ),
    words: optional(named<string>({ type: 'string' }, 'Words of the setting to their spelling.')),
    decimals: optional(whole('Digits after the point; default as few as needed.', { minimum: 0, maximum: 9 })),
  },
  {
    ...closed,
    description: 'An amount, rounded to the nearest step and shown as approximated when that changes it.',
  },
);

const PathCodec = Type.Object(
  { trailing: optional(flag('End with a slash.')) },
  { ...closed, description: "`part:folder`, spelled with the part's mounted-at." },
);

const ControlCodec = Type.Object(
  {
    button: optional(text('Overrides controls.button.')),
    axis: optional(text('Overrides controls.axis.')),
    hat: optional(text('Overrides controls.hat.')),
    nothing: optional(text('Overrides controls.nothing.')),
  },
  { ...closed, description: 'One control.' },
);

const ChordCodec = Type.Object(
  {
    join: optional(text('What joins the controls.')),
    order: optional(word(['pressed', 'sorted', 'hold-first', 'hold-last'], 'Their order.')),
    nothing: optional(text('Spelling of no chord.')),
  },
  { ...closed, description: 'Several controls in one value.' },
);

const ListCodec = Type.Object(
  {
    separator: optional(text("Joins the items in one text; without it the syntax's own list is used.")),
    values: optional(named<string>({ type: 'string' }, 'Item to its spelling.')),
    empty: optional(text('Spelling of an empty list.')),
  },
  { ...closed, description: 'Several words or texts in one value.' },
);

const MembersCodec = Type.Object(
  {
    keys: named<string>({ type: 'string' }, 'Word to the key that switches it.'),
    on: optional(text('Spelling of on. Default true.')),
    off: optional(text('Spelling of off. Default false.')),
  },
  { ...closed, description: 'A set as separate switches.' },
);

const MappingCodec = Type.Object(
  {
    version: optional(text('SDL release that reads it; default that of controls.numbering.', { examples: ['2.26'] })),
    udev: optional(flag('Whether the frontend runs with udev; default that of controls.numbering.')),
  },
  {
    ...closed,
    description:
      'The SDL mapping line of the device, where the setting is on. Its key holds the whole line; in a file of lines with the separator `,` no key is given, since its GUID is the key.',
  },
);

/** Members of an entry or of one of its writes that say how a value is spelled. */
export const codecMembers = {
  values: optional(
    named<string | readonly string[]>(
      { type: ['string', 'array'], items: { type: 'string' } },
      'Value to its spellings; the first is written, all are read.',
    ),
  ),
  number: optional(part<Static<typeof NumberCodec>>('codec-number')),
  path: optional(part<Static<typeof PathCodec>>('codec-path')),
  control: optional(part<Static<typeof ControlCodec>>('codec-control')),
  chord: optional(part<Static<typeof ChordCodec>>('codec-chord')),
  list: optional(part<Static<typeof ListCodec>>('codec-list')),
  members: optional(part<Static<typeof MembersCodec>>('codec-members')),
  mapping: optional(part<Static<typeof MappingCodec>>('codec-mapping')),
  text: optional(
    text(
      `Template of the text, mostly {{value}}. Names: ${printedNames(['value', 'option.name'], templateNames.common)}.`,
      {
        examples: ['{{value}}', '{{core.id}}'],
      },
    ),
  ),
  as: optional(
    word(
      ['string', 'number', 'boolean'],
      'How a json, toml or yaml file holds it; default as the file has it, else by the codec.',
    ),
  ),
} as const;

/** Codecs' parts of the dialect's schema. */
export const codecParts = {
  'codec-number': NumberCodec,
  'codec-path': PathCodec,
  'codec-control': ControlCodec,
  'codec-chord': ChordCodec,
  'codec-list': ListCodec,
  'codec-members': MembersCodec,
  'codec-mapping': MappingCodec,
} as const;

/** The codecs of an entry; exactly one is given. `as` is no codec. */
export type CodecsWritten = Omit<Static<TObject<typeof codecMembers>>, 'as'>;
export type NumberWritten = NonNullable<CodecsWritten['number']>;
