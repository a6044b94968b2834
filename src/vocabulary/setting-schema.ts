import { positions } from './positions.ts';
import type { SettingDefinition, ValueType } from './types.ts';

/** A JSON Schema (2020-12) as plain data. */
export type Schema = Readonly<Record<string, unknown>>;

/** One control as a profile names it: a position, or `{ label: A }`. */
const control: Schema = {
  type: ['string', 'object'],
  properties: { label: { type: 'string', description: 'What is printed on the control.' } },
  required: ['label'],
  additionalProperties: false,
  description: 'A control, by its position or as { label: A }.',
  examples: [...positions],
  'x-thumbwright': 'control',
};

const oneOrMany = (description: string): Schema => ({
  ...control,
  type: ['string', 'object', 'array'],
  items: { $ref: '#/$defs/control' },
  description,
});

const bindMembers: Schema = {
  label: { type: 'string', description: 'What is printed on the control that is pressed together with hold.' },
  control: oneOrMany('Pressed together with hold; a list is wishes, best first.'),
  chord: {
    type: 'array',
    items: { $ref: '#/$defs/control' },
    minItems: 1,
    description: 'Exactly these together, without hold.',
  },
  alone: oneOrMany('Pressed without hold; a list is wishes, best first.'),
  // Legal for every hotkey here: that some are done once when pressed is told in words of its own.
  while: {
    type: 'string',
    enum: ['held', 'toggled'],
    description: 'For what lasts: for as long as it is held, or until it is pressed again.',
  },
  'if-present': { type: 'boolean', description: 'Only on devices that have the control: no finding on the others.' },
};

const bindForms =
  'A position or { label: A } pressed with hold, { control }, { chord }, { alone }, none, or a list of these.';

const oneBind: Schema = {
  type: ['string', 'object'],
  properties: bindMembers,
  additionalProperties: false,
  description: bindForms,
  examples: [...positions],
  'x-thumbwright': 'bind',
};

/** What settings' schemas share, by its name in `$defs`. */
export const settingParts: Readonly<Record<string, Schema>> = {
  control,
  controls: {
    ...oneOrMany('A position, { label: A } or none; a list is wishes, best first.'),
    type: ['string', 'object', 'array', 'null'],
    examples: [...positions, 'none'],
  },
  bind: {
    ...oneBind,
    type: ['string', 'object', 'array', 'null'],
    items: { $ref: '#/$defs/one-bind' },
    examples: [...positions, 'none'],
  },
  'one-bind': oneBind,
  network: {
    type: 'object',
    properties: {
      name: { type: 'string', description: 'The name of the network, as the router shows it.' },
      password: {
        type: 'string',
        description: 'The secret that holds its password, as secret:NAME; left out, the network is open.',
        examples: ['secret:reading-room'],
        'x-thumbwright': 'secret',
      },
      hidden: { type: 'boolean', description: 'Whether the network does not show its name.' },
    },
    required: ['name'],
    additionalProperties: false,
    description: 'A Wi-Fi network.',
  },
};

/** The shape of a setting's value, all its YAML kinds in one. `null` is always legal: it clears what a lower layer set. */
function shapeOf(type: ValueType): Schema {
  switch (type.kind) {
    case 'boolean':
      return { type: ['boolean', 'null'] };
    case 'word':
      return { type: ['string', 'null'], enum: [...type.of, null] };
    case 'number':
      return {
        type: [type.whole ? 'integer' : 'number', 'null'],
        ...(type.min === undefined ? {} : { minimum: type.min }),
        ...(type.max === undefined ? {} : { maximum: type.max }),
      };
    case 'quantity':
      return { type: ['string', 'null'], 'x-thumbwright': `quantity:${type.measure}` };
    case 'text':
      return { type: ['string', 'null'], examples: [...type.examples] };
    case 'secret':
      return { type: ['string', 'null'], examples: ['secret:shelf-account'], 'x-thumbwright': 'secret' };
    case 'control':
      return { $ref: '#/$defs/controls' };
    case 'bind':
      return { $ref: '#/$defs/bind' };
    case 'place':
      return { type: ['string', 'null'], examples: ['games:kept'], 'x-thumbwright': 'place' };
    case 'words':
      return {
        type: ['array', 'null'],
        items: { type: 'string', enum: [...type.of] },
        uniqueItems: true,
      };
    case 'texts':
      return { type: ['array', 'null'], items: { type: 'string' }, examples: [[...type.examples]] };
    case 'networks':
      return { type: ['array', 'null'], items: { $ref: '#/$defs/network' } };
    case 'cores':
      return {
        type: ['object', 'null'],
        additionalProperties: {
          type: ['string', 'array', 'null'],
          items: { type: 'string', 'x-thumbwright': 'core' },
          'x-thumbwright': 'core',
        },
        examples: [{ burdock: ['thrush', 'harrow-annex/dunnock'] }],
      };
    case 'options':
      return {
        type: ['object', 'null'],
        additionalProperties: { type: ['object', 'null'], additionalProperties: { type: ['string', 'null'] } },
      };
    case 'lists':
      return {
        type: ['object', 'null'],
        additionalProperties: { type: ['array', 'null'], items: { type: 'string' } },
      };
  }
}

/** Examples of a quantity, its words first. */
function quantityExamples(type: ValueType, example: string): Schema {
  return type.kind === 'quantity' ? { examples: [...(type.words ?? []), example] } : {};
}

/** Hover text: what the setting does, and what goes wrong when it is wrong. */
export function hoverText({ description, hazard }: SettingDefinition): string {
  return hazard === undefined ? description : `${description} Take care: ${hazard}`;
}

/** The schema of one setting's value in a profile, house or `only` block. `example` is one of its values. */
export function settingSchema(setting: SettingDefinition, example: string): Schema {
  return {
    title: setting.id,
    description: hoverText(setting),
    ...quantityExamples(setting.type, example),
    ...shapeOf(setting.type),
  };
}
