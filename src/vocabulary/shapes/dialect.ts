import { Type } from '@sinclair/typebox';
import type { Static } from '@sinclair/typebox';
import { codecMembers, codecParts } from './codecs.ts';
import { printedNames, templateNames } from '../template-names.ts';
import { flag, formatOne, named, namePattern, optional, part, text, textOrTexts, texts, word } from './kinds.ts';

const { common, item, control, saves } = templateNames;
const closed = { additionalProperties: false } as const;

const StyleShape = Type.Object(
  {
    separator: optional(
      text('What stands between key and value, blanks included; in lines: what ends the key.', {
        examples: [' = ', ': '],
      }),
    ),
    comment: optional(
      textOrTexts('What begins a comment line; several may be given.', { examples: ['#', ['#', ';']] }),
    ),
    'inline-comments': optional(flag('A comment may follow a value on its line.')),
    quote: optional(word(['none', 'single', 'double', 'keep'], 'Quotes around values; keep: as the neighbours.')),
    list: optional(text('What joins the items of a list.', { examples: [',', ' '] })),
    duplicates: optional(word(['first', 'last', 'error'], 'Which of several lines with one key the program reads.')),
    continuation: optional(text('A last character that continues a value on the next line.', { examples: ['\\'] })),
    sections: optional(
      word(['merge', 'first', 'last'], 'Sections of one name: one section, or the first or last counts.'),
    ),
    'fold-case': optional(flag('Key names are compared without case.')),
    relaxed: optional(flag('json: comments and trailing commas are allowed.')),
    'line-end': optional(word(['lf', 'crlf'], 'Line end of a file that has none to follow.')),
    indent: optional(text('Indent of one level.')),
    siblings: optional(word(['end', 'start', 'sorted'], 'Where a new record goes among its siblings.')),
  },
  { ...closed, description: 'How the file is written; what is left out is detected from the file.' },
);

const FileShape = Type.Object(
  {
    path: text(`Template of the path. Names: ${printedNames(common)}; with each: also ${printedNames(item)}.`, {
      examples: ['{{root}}/play.conf', '{{root}}/systems/{{system.folder}}.conf'],
    }),
    syntax: word(
      ['pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines', 'template'],
      'The file format.',
    ),
    style: optional(part<StyleWritten>('style')),
    template: optional(text('For syntax template: the template file, beside the dialect.')),
    writes: optional(
      word(
        ['pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines', 'keyfile'],
        'For syntax template: the format it writes, whose escaping is used. keyfile is that of NetworkManager, and taken where a path ends in .nmconnection.',
      ),
    ),
    each: optional(
      text('One file for each item of this setting, named by {{item.…}}.', { examples: ['network.networks'] }),
    ),
    owner: optional(text('Owner of the file on the device.', { examples: ['root'] })),
    mode: optional(text('Mode of the file on the device, octal.', { examples: ['600', '755'] })),
    'generated-from': optional(textOrTexts('Files from which the frontend makes this one anew: never write it.')),
  },
  { ...closed, description: 'One file that the frontend reads.' },
);

const numberingWords = ['sdl', 'kernel-joystick', 'w3c', 'code', 'name', 'position', 'table'] as const;

/** How controls are numbered; a dialect's, and an instance's over it. */
export const NumberingShape = Type.Unsafe<NumberingWritten>({
  type: ['string', 'object'],
  properties: {
    order: word(numberingWords, 'Which numbering.'),
    version: text('SDL version.', { examples: ['2.26'] }),
    udev: flag('Whether the frontend runs with udev.'),
    table: named<string>({ type: 'string' }, 'Words by position.'),
  },
  required: ['order'],
  additionalProperties: false,
  description: 'How controls are numbered: one word, or a mapping with more to say.',
  examples: [...numberingWords],
});

const ControlsShape = Type.Object(
  {
    numbering: optional(part<NumberingWritten>('numbering')),
    prefer: optional(
      Type.Unsafe<readonly ('button' | 'axis' | 'hat')[]>({
        type: 'array',
        items: { type: 'string', enum: ['button', 'axis', 'hat'] },
        description: 'For a control that sends several: which form is written, best first.',
      }),
    ),
    hold: optional(
      word(['global', 'each', 'none'], 'One hold control for all; written into every chord; or no hold at all.'),
    ),
    fires: optional(word(['press', 'release'], 'When a hotkey fires.')),
    button: optional(text(`Template of a button. Names: ${printedNames(control)}.`, { examples: ['{{index}}'] })),
    axis: optional(text('Template of one side of an axis; names as for button.', { examples: ['{{axis}}{{side}}'] })),
    hat: optional(text('Template of a direction of a hat; names as for button.')),
    nothing: optional(text('What stands for no control; without it the key is removed.')),
    chord: optional(
      Type.Object(
        {
          join: text('What joins the controls of a chord.'),
          order: optional(word(['pressed', 'sorted', 'hold-first', 'hold-last'], 'Order of the controls.')),
        },
        { ...closed, description: 'How several controls in one value are written.' },
      ),
    ),
    device: optional(text('The input whose controls are numbered, where a device has several.')),
  },
  { ...closed, description: 'How controls are spelled.' },
);

export interface NumberingObject {
  readonly order: (typeof numberingWords)[number];
  readonly version?: string;
  readonly udev?: boolean;
  readonly table?: Readonly<Record<string, string>>;
}
export type NumberingWritten = string | NumberingObject;

/** Key maps by one choice, or nested: `while` outside, kind inside. */
export type KeyWritten = string | { readonly [choice: string]: KeyWritten };

const keyMembers = ['held', 'toggled', 'press', 'button', 'axis', 'hat'] as const;

const keyMap = (inner: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> => ({
  type: ['string', 'object'],
  properties: Object.fromEntries(keyMembers.map((name) => [name, inner])),
  additionalProperties: false,
});

const KeyShape = Type.Unsafe<KeyWritten>({
  ...keyMap({ $ref: '#/$defs/key-by-kind' }),
  description: `The key, in the path language of the file; or a map by \`while\` or by kind of control. Names: ${printedNames(common, ['option.name'])}.`,
  examples: ['keep-place', '[clock] zone', '/screen/smooth'],
});

const KeyByKindShape = Type.Unsafe<KeyWritten>({
  ...keyMap({ type: 'string' }),
  description: 'The key; or a map by kind of control.',
});

/** A file id, or scope to file id. */
type FileChoiceWritten = string | Readonly<Record<string, string>>;

const scopeWords = ['instance', 'core', 'system', 'game'] as const;

const FileChoiceShape = Type.Unsafe<FileChoiceWritten>({
  type: ['string', 'object'],
  properties: Object.fromEntries(scopeWords.map((scope) => [scope, { type: 'string' }])),
  additionalProperties: false,
  description: 'The file, by its id; or a map of scope to file.',
  examples: ['main', { instance: 'main', system: 'by-system' }],
});

const WriteShape = Type.Object(
  {
    file: optional(part<FileChoiceWritten>('file-choice')),
    key: optional(part<KeyWritten>('key')),
    ...codecMembers,
  },
  { ...closed, description: 'One of several keys that one setting writes.' },
);

const EntryShape = Type.Object(
  {
    versions: optional(text('Frontend versions for which this spelling holds.', { examples: ['>=2.1 <3'] })),
    file: optional(part<FileChoiceWritten>('file-choice')),
    key: optional(part<KeyWritten>('key')),
    ...codecMembers,
    writes: optional(Type.Array(part<WriteWritten>('write'), { description: 'Several keys that must agree.' })),
  },
  { ...closed, description: 'How one setting is spelled.' },
);

export type { CodecsWritten, NumberWritten } from './codecs.ts';
export type EntryWritten = Static<typeof EntryShape>;
export type WriteWritten = Static<typeof WriteShape>;

const WhenShape = Type.Object(
  { file: text('File id.'), key: text('Key.'), is: text('Text that the key holds.') },
  { ...closed, description: 'Holds when the card has this text.' },
);
type WhenWritten = Static<typeof WhenShape>;

const SaveShape = Type.Object(
  {
    when: optional(part<WhenWritten>('when')),
    folder: text(`Template of the folder. Names: ${printedNames(common, saves)}.`),
    name: text('Template of the file name; names as for folder.'),
  },
  closed,
);
const StateShape = Type.Object(
  {
    when: optional(part<WhenWritten>('when')),
    folder: text(`Template of the folder. Names: ${printedNames(common, saves)}.`),
    name: text('Template of the file name; names as for folder.'),
    slots: optional(text('Range of slots, `0..9`.')),
    picture: optional(text("Template of the name of the picture beside it; {{name}} is the state's own name.")),
  },
  closed,
);

const MovedShape = Type.Object(
  {
    versions: text('Frontend versions from which the new names hold.'),
    core: optional(named<string>({ type: 'string' }, 'Old core id to new.')),
    file: optional(named<string>({ type: 'string' }, 'Old file path to new, relative to the root.')),
    folder: optional(named<string>({ type: 'string' }, 'Old folder to new, relative to the root.')),
    value: optional(
      named<Readonly<Record<string, string>>>(
        { type: 'object', additionalProperties: { type: 'string' } },
        'By setting: old spelling to new.',
      ),
    ),
    key: optional(
      named<Readonly<Record<string, string>>>(
        { type: 'object', additionalProperties: { type: 'string' } },
        'By file id: old raw key to new.',
      ),
    ),
  },
  { ...closed, description: 'What an update renames.' },
);

const ComputedShape = Type.Object(
  {
    versions: optional(text('Frontend versions for which it holds.')),
    file: text('File id.'),
    key: text('The key.'),
    from: texts('Setting ids, in the order of their names in the text.', { minItems: 1 }),
    text: text("Template over {{values.[setting.id]}}, the settings' own spellings by `spell`."),
    spell: optional(
      named<Readonly<Record<string, string>>>(
        { type: 'object', additionalProperties: { type: 'string' } },
        'By setting: value to spelling.',
      ),
    ),
    as: optional(word(['string', 'number', 'boolean'], 'How the file holds it.')),
  },
  { ...closed, description: 'A key made from several settings.' },
);

const RecordsShape = Type.Object(
  {
    versions: optional(text('Frontend versions for which this spelling holds.', { examples: ['>=2.1 <3'] })),
    file: text('File id.'),
    at: text('Path of the repeated element.', { examples: ['/games/game', '/volumes', 'games'] }),
    fields: named<string>(
      { type: 'string' },
      'Field of ours to path in the record: path, system and favourite, hidden or list; of hidden-systems system and hidden.',
    ),
    path: optional(
      text('Template of what the frontend writes for a game.', {
        examples: ['{{system.folder}}/{{game.path}}', './{{game.path}}'],
      }),
    ),
    system: optional(
      text('Template of what the frontend writes for a system.', { examples: ['{{system.id}}', '{{system.folder}}'] }),
    ),
    on: optional(text('What the field holds where it is on; true when left out.')),
    off: optional(text('What the field is given where it is off; the field is taken out when left out.')),
    remove: optional(flag('Where it is off the whole record is taken out, not the field alone.')),
    new: optional(
      named<string>({ type: 'string' }, 'Fields that a new record is given besides: path in the record to template.'),
    ),
  },
  { ...closed, description: 'Repeated elements, found by a field.' },
);

/** What a shelf or menu keeps as repeated elements; none of it is a setting of one value. */
const recordKinds = ['favourites', 'hidden', 'hidden-systems', 'lists'] as const;

export type RecordsWritten = Static<typeof RecordsShape>;

const RecordsByKindShape = Type.Unsafe<Readonly<Record<string, RecordsWritten | readonly RecordsWritten[]>>>({
  type: 'object',
  properties: Object.fromEntries(recordKinds.map((kind) => [kind, part('records-by-version')])),
  additionalProperties: false,
  description: 'Repeated elements by what they hold: favourites, hidden, hidden-systems, lists.',
});

/** Parts of the dialect's schema that stand in its `$defs`. */
export const dialectParts = {
  file: FileShape,
  style: StyleShape,
  controls: ControlsShape,
  'file-choice': FileChoiceShape,
  key: KeyShape,
  'key-by-kind': KeyByKindShape,
  numbering: NumberingShape,
  spelling: EntryShape,
  write: WriteShape,
  ...codecParts,
  when: WhenShape,
  records: RecordsShape,
} as const;

/** A dialect file. `$id` and `title` are added by the generator. */
export const DialectShape = Type.Object(
  {
    dialect: text('Name of the dialect: letters, digits, hyphens.', { pattern: namePattern }),
    format: formatOne,
    version: text('Version of this file (semver).', { examples: ['1.4.0'] }),
    'for-versions': text('Frontend versions that it covers.', { examples: ['>=2.0 <3'] }),
    role: Type.Unsafe<string | readonly string[]>({
      type: ['string', 'array'],
      items: { type: 'string', enum: ['player', 'menu', 'shelf', 'system'] },
      description: 'player, menu, shelf or system; or several.',
    }),
    detect: optional(
      Type.Object(
        { file: text('File template.'), pattern: text('Pattern whose first group is the version.') },
        { ...closed, description: 'How the version is read off a card.' },
      ),
    ),
    process: optional(text('Name of the process that rewrites its files on exit.')),
    files: named<FileWritten>(part('file'), 'The files, by an id of your own.'),
    order: optional(
      Type.Unsafe<readonly ('instance' | 'core' | 'system' | 'game')[]>({
        type: 'array',
        items: { type: 'string', enum: scopeWords },
        uniqueItems: true,
        description: 'How the frontend reads its scopes, later over earlier.',
      }),
    ),
    controls: optional(part<ControlsWritten>('controls')),
    // Its members, one for each setting of the registry, are added by the generator.
    settings: Type.Unsafe<Readonly<Record<string, EntryWritten | readonly EntryWritten[]>>>({
      type: 'object',
      description: 'Setting id to spelling, or a list of spellings by version or scope.',
    }),
    saves: optional(Type.Array(SaveShape, { description: 'Where saves lie; the first whose `when` holds.' })),
    states: optional(Type.Array(StateShape, { description: 'Where states lie; the first whose `when` holds.' })),
    moved: optional(Type.Array(MovedShape, { description: 'What updates rename.' })),
    computed: optional(Type.Array(ComputedShape, { description: 'Keys made from several settings.' })),
    records: optional(RecordsByKindShape),
  },
  closed,
);

export type DialectWritten = Static<typeof DialectShape>;
export type FileWritten = Static<typeof FileShape>;
export type StyleWritten = Static<typeof StyleShape>;
export type ControlsWritten = Static<typeof ControlsShape>;
