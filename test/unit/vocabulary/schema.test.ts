import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { writtenAs } from '../../../src/vocabulary/describe.ts';
import { exampleOf } from '../../../src/vocabulary/example.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { makeSchemas } from '../../../src/vocabulary/schema.ts';
import { sectionPath } from '../../../src/vocabulary/sections.ts';
import { isMapping, kinds, legalDocument, schemaFile, schemaOf } from '../../support/vocabulary/documents.ts';
import { schemaText } from '../../tools/schema-text.ts';

type Mapping = Readonly<Record<string, unknown>>;

function compiler(): Ajv2020 {
  // The JSON Schema 2020-12 meta-schema comes with ajv; strict mode refuses unknown keywords and silent no-ops.
  const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
  ajv.addVocabulary(['x-thumbwright']);
  return ajv;
}

const validators = new Map(kinds.map((kind) => [kind, compiler().compile(schemaOf(kind))]));

function errorsOf(kind: (typeof kinds)[number], data: unknown): readonly string[] {
  const validate = validators.get(kind);
  if (validate === undefined) throw new Error(kind);
  validate(data);
  return (validate.errors ?? []).map(({ keyword, instancePath }) => `${keyword} ${instancePath}`);
}

/** Every subschema, with its path for messages. */
function* nodes(schema: Mapping, at = '#'): Generator<readonly [string, Mapping]> {
  yield [at, schema];
  for (const [name, value] of Object.entries(schema)) {
    if ((name === 'properties' || name === '$defs') && isMapping(value)) {
      for (const [key, member] of Object.entries(value))
        if (isMapping(member)) yield* nodes(member, `${at}/${name}/${key}`);
    } else if ((name === 'items' || name === 'additionalProperties') && isMapping(value))
      yield* nodes(value, `${at}/${name}`);
  }
}

test.each(kinds)('schema/%s.schema.json is what npm run schema writes', (kind) => {
  expect(schemaFile(kind)).toBe(schemaText(makeSchemas()[kind]));
});

test.each(kinds)('the schema of a %s is legal JSON Schema 2020-12', (kind) => {
  expect(schemaOf(kind)['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
  expect(compiler().validateSchema(schemaOf(kind))).toBe(true);
});

test.each(kinds)('the schema of a %s tells kinds apart without alternatives, and describes every member', (kind) => {
  const schema = schemaOf(kind);
  const parts = schema['$defs'];
  for (const [at, node] of nodes(schema)) {
    for (const name of ['anyOf', 'oneOf', 'allOf', 'not', 'if', 'default']) expect(node, at).not.toHaveProperty(name);
    const { properties } = node;
    if (!isMapping(properties)) continue;
    expect(node, at).toHaveProperty('additionalProperties');
    for (const [name, member] of Object.entries(properties)) {
      if (/key(-by-kind)?$|file-choice$|hands$/.test(at)) continue;
      const own = isMapping(member) ? member : {};
      const ref = typeof own['$ref'] === 'string' ? own['$ref'].slice('#/$defs/'.length) : '';
      const part = isMapping(parts) ? parts[ref] : undefined;
      const described = 'description' in own || (isMapping(part) && 'description' in part);
      expect(described, `${at}/properties/${name} has a description`).toBe(true);
    }
  }
});

test.each(kinds)('every example in the schema of a %s is legal where it stands', (kind) => {
  const schema = schemaOf(kind);
  for (const [at, node] of nodes(schema)) {
    const { examples } = node;
    if (!Array.isArray(examples)) continue;
    const validate = compiler().compile({ ...node, $id: 'urn:example:part', $defs: schema['$defs'] });
    for (const example of examples as readonly unknown[])
      expect(validate(example), `${at}: ${JSON.stringify(example)}`).toBe(true);
  }
});

test.each(kinds)('the %s that shows every form is legal', (kind) => {
  expect(errorsOf(kind, legalDocument(kind))).toEqual([]);
});

test.each(settings.map((setting) => [setting.id, setting] as const))(
  '%s may be written as its page says',
  (id, setting) => {
    const written: unknown = parse(writtenAs(setting, exampleOf(setting.type)));
    const cleared: unknown = parse(writtenAs(setting, 'null'));
    if (!isMapping(written) || !isMapping(cleared)) throw new Error(id);
    for (const given of [written, cleared]) {
      expect(errorsOf('profile', { profile: 'fen', format: 1, ...given })).toEqual([]);
      expect(errorsOf('house', { house: 'all', format: 1, ...given })).toEqual([]);
      expect(errorsOf('house', { house: 'all', format: 1, only: [{ for: { frontend: 'sill' }, ...given }] })).toEqual(
        [],
      );
    }
    // A wrong last name is one mistake, at its parent.
    const wrong: unknown = parse(writtenAs({ ...setting, id: `${id}x` }, 'true'));
    const parent = sectionPath(id).slice(0, -1).join('/');
    expect(errorsOf('profile', { profile: 'fen', format: 1, ...(isMapping(wrong) ? wrong : {}) })).toEqual([
      `additionalProperties /${parent}`,
    ]);
  },
);

const dialect = {
  dialect: 'x',
  format: 1,
  version: '1.0.0',
  'for-versions': '*',
  role: 'menu',
  files: {},
  settings: {},
};

test.each([
  ['a boolean as a word', 'house', { saves: { 'state-on-exit': 'yes' } }, 'type /saves/state-on-exit'],
  ['a word outside the list', 'house', { saves: { layout: 'by-colour' } }, 'enum /saves/layout'],
  ['a quantity without its unit', 'house', { saves: { 'write-save-every': 10 } }, 'type /saves/write-save-every'],
  ['a number as a text', 'house', { saves: { 'state-slots': { count: 'nine' } } }, 'type /saves/state-slots/count'],
  ['a number below its bound', 'house', { saves: { 'state-slots': { count: 0 } } }, 'minimum /saves/state-slots/count'],
  ['a scalar for a list', 'house', { artwork: { take: 'picture' } }, 'type /artwork/take'],
  ['a wrong word in a list', 'house', { artwork: { take: ['picture', 'music'] } }, 'enum /artwork/take/1'],
  ['a word twice', 'house', { artwork: { take: ['video', 'video'] } }, 'uniqueItems /artwork/take'],
  ['a section that is a scalar', 'house', { saves: true }, 'type /saves'],
  ['an unknown section', 'house', { savings: {} }, 'additionalProperties '],
  [
    'an unknown member of a hotkey',
    'house',
    { hotkeys: { bind: { pause: { press: 'x' } } } },
    'additionalProperties /hotkeys/bind/pause',
  ],
  [
    'a wrong while',
    'house',
    { hotkeys: { bind: { rewind: { control: 'south', while: 'down' } } } },
    'enum /hotkeys/bind/rewind/while',
  ],
  ['a hotkey that is a number', 'house', { hotkeys: { bind: { pause: 5 } } }, 'type /hotkeys/bind/pause'],
  ['a list of lists of wishes', 'house', { hotkeys: { bind: { pause: [['south']] } } }, 'type /hotkeys/bind/pause/0'],
  ['a network without a name', 'house', { network: { networks: [{ hidden: true }] } }, 'required /network/networks/0'],
  [
    'an unknown position',
    'house',
    { device: { controls: { souht: { label: 'B' } } } },
    'additionalProperties /device/controls',
  ],
  ['a block without for', 'house', { only: [{ saves: {} }] }, 'required /only/0'],
  ['a block for nothing', 'house', { only: [{ for: {} }] }, 'minProperties /only/0/for'],
  ['a name with blanks', 'house', { house: 'my house' }, 'pattern /house'],
  ['another format', 'house', { format: 2 }, 'enum /format'],
  [
    'an unknown setting in a dialect',
    'dialect',
    { ...dialect, settings: { 'saves.state': {} } },
    'additionalProperties /settings',
  ],
  [
    'a spelling that is a text',
    'dialect',
    { ...dialect, settings: { 'exit.ask-first': 'key' } },
    'type /settings/exit.ask-first',
  ],
  [
    'an unknown codec',
    'dialect',
    { ...dialect, settings: { 'exit.ask-first': { file: 'a', key: 'b', value: {} } } },
    'additionalProperties /settings/exit.ask-first',
  ],
  [
    'an unknown codec in a list',
    'dialect',
    { ...dialect, settings: { 'exit.ask-first': [{ value: {} }] } },
    'additionalProperties /settings/exit.ask-first/0',
  ],
  [
    'an unknown scope of a file',
    'dialect',
    { ...dialect, settings: { 'exit.ask-first': { file: { device: 'x' } } } },
    'additionalProperties /settings/exit.ask-first/file',
  ],
  [
    'an unknown syntax',
    'dialect',
    { ...dialect, files: { a: { path: 'x', syntax: 'pairz' } } },
    'enum /files/a/syntax',
  ],
  ['a control that is no text', 'house', { hotkeys: { hold: { label: {} } } }, 'type /hotkeys/hold/label'],
] as const)('%s is one error', (_, kind, data, error) => {
  const whole = kind === 'house' ? { house: 'all', format: 1, ...data } : data;
  expect(errorsOf(kind, whole)).toEqual([error]);
});
