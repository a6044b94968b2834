import { exampleOf } from './example.ts';
import { settings } from './registry.ts';
import { groups, sectionPath } from './sections.ts';
import { hoverText, settingParts, settingSchema } from './setting-schema.ts';
import type { Schema } from './setting-schema.ts';
import { CatalogShape, catalogParts } from './shapes/catalog.ts';
import { DialectShape, dialectParts } from './shapes/dialect.ts';
import { namePattern } from './shapes/kinds.ts';
import { profileMembers, profileParts } from './shapes/profile.ts';

/** The kinds of files that people write. */
export type FileKind = 'profile' | 'house' | 'dialect' | 'catalog';

/** A shape as plain data, without the marks by which the shapes' library types it. */
function plain(shape: object): Schema {
  const copy: unknown = JSON.parse(JSON.stringify(shape));
  return asSchema(copy);
}

function isSchema(value: unknown): value is Schema {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function asSchema(value: unknown): Schema {
  if (isSchema(value)) return value;
  throw new Error('A schema is a mapping. This is a bug in thumbwright.');
}

function mapped(value: unknown, change: (schema: Schema) => Schema): unknown {
  if (Array.isArray(value)) return value.map((item: unknown) => mapped(item, change));
  return isSchema(value) ? visit(value, change) : value;
}

const subschemaMaps: ReadonlySet<string> = new Set(['properties', '$defs']);
const subschemas: ReadonlySet<string> = new Set(['items', 'additionalProperties']);

/** Every schema in a schema, innermost first; examples and the like are left alone. */
function visit(schema: Schema, change: (schema: Schema) => Schema): Schema {
  const members = Object.entries(schema).map(([name, value]): [string, unknown] => {
    if (subschemas.has(name)) return [name, mapped(value, change)];
    if (!subschemaMaps.has(name) || !isSchema(value)) return [name, value];
    return [name, Object.fromEntries(Object.entries(value).map(([key, member]) => [key, mapped(member, change)]))];
  });
  return change(Object.fromEntries(members));
}

/**
 * Texts are read from their source (`version: 4.0` is the text 4.0), so that an editor must let a number or a boolean
 * stand there; the validators of thumbwright see texts and are narrowed again when they are made.
 */
function admitSourceTexts(schema: Schema): Schema {
  const { type } = schema;
  const types: readonly unknown[] = Array.isArray(type) ? type : [type];
  const closed = 'enum' in schema || 'x-thumbwright' in schema;
  if (closed || !types.includes('string') || types.includes('number')) return schema;
  return { ...schema, type: [...types, 'number', 'boolean'], 'x-thumbwright': 'text' };
}

/** `null` is legal too. */
function nullable(schema: Schema): Schema {
  const { type, enum: words } = schema;
  const types: readonly unknown[] = Array.isArray(type) ? type : [type];
  if (type === undefined || types.includes('null')) return schema;
  return {
    ...schema,
    type: [...types, 'null'],
    ...(Array.isArray(words) ? { enum: [...(words as unknown[]), null] } : {}),
  };
}

/** Every member may be left out. */
function partial(schema: Schema): Schema {
  return Object.fromEntries(Object.entries(schema).filter(([name]) => name !== 'required'));
}

/** In a layer, `null` clears what a lower one said: every member that need not be there may be null. */
function clearable(schema: Schema): Schema {
  const required: readonly unknown[] = Array.isArray(schema['required']) ? schema['required'] : [];
  const members = Object.entries(asSchema(schema['properties'])).map(([name, member]) => [
    name,
    required.includes(name) ? member : nullable(asSchema(member)),
  ]);
  return { ...schema, properties: Object.fromEntries(members) as unknown };
}

interface Section {
  readonly settings: Map<string, Schema>;
  readonly below: Map<string, Section>;
}

function emptySection(): Section {
  return { settings: new Map(), below: new Map() };
}

const sectionTexts: Readonly<Record<string, string>> = {
  hotkeys: 'What is pressed in a game to reach the frontend.',
  'hotkeys.bind': 'By action: what is pressed, together with hold.',
  pad: "Which control plays which input of the running game's pad.",
  exit: 'Leaving a game.',
  saves: "The games' own saves, and states.",
  'saves.state-slots': 'The slots that states are kept in.',
  'saves.state-file': 'The files that states are kept in.',
  display: "The picture on the device's own screen.",
  'input-lag': 'The time from a press to what it does on the screen.',
  speed: 'Faster, slower, backwards.',
  'speed.rewind': 'Running a game backwards.',
  sound: 'What is heard from the device itself.',
  power: 'Battery, sleep and the power button.',
  'power.low-battery': 'When the battery is nearly empty.',
  cores: "Which core runs a game system, and the cores' own options.",
  menus: 'The menus in which games are found.',
  time: "The device's clock.",
  network: 'Wi-Fi, and what it opens.',
  achievements: 'Feats that a service on the network counts.',
  artwork: 'Pictures and descriptions of games, fetched by the menu.',
  tv: "With a television on the device's video output.",
  games: 'The collection: favourites, lists, cheats and patches.',
};

function sectionSchema(path: string, section: Section): Schema {
  const description = sectionTexts[path];
  if (description === undefined)
    throw new Error(`The section ${path} has no description. This is a bug in thumbwright.`);
  return {
    title: path,
    description,
    type: ['object', 'null'],
    properties: Object.fromEntries([
      ...section.settings,
      ...[...section.below].map(([name, below]) => [name, sectionSchema(`${path}.${name}`, below)] as const),
    ]),
    additionalProperties: false,
  };
}

/** The sections of a profile by group, from the registry. */
function sections(): Readonly<Record<string, Schema>> {
  const top = emptySection();
  for (const setting of settings) {
    const path = sectionPath(setting.id);
    let at = top;
    for (const name of path.slice(0, -1)) {
      const below = at.below.get(name) ?? emptySection();
      at.below.set(name, below);
      at = below;
    }
    at.settings.set(path.at(-1) ?? '', settingSchema(setting, exampleOf(setting.type)));
  }
  return Object.fromEntries([...top.below].map(([group, section]) => [group, sectionSchema(group, section)]));
}

function sectionRefs(): Readonly<Record<string, Schema>> {
  return Object.fromEntries(groups.map((group) => [group, { $ref: `#/$defs/section-${group}` }]));
}

function partsOf(parts: Readonly<Record<string, object>>): Readonly<Record<string, Schema>> {
  return Object.fromEntries(Object.entries(parts).map(([name, shape]) => [name, plain(shape)]));
}

/** The sections, and what stands beside them, that a block of `only` may hold. */
function blockSchema(): Schema {
  const block = asSchema(plain(profileMembers.only)['items']);
  const members = { ...asSchema(block['properties']), ...sectionRefs(), extra: plain(profileMembers.extra) };
  return { ...block, properties: members, additionalProperties: false };
}

/** Members in the order in which people write them; `null` clears where a lower layer may have spoken. */
function layerMembers(): Readonly<Record<string, Schema>> {
  const { format, name, extends: from, catalog, device, frontends, only, allow, extra, refit } = profileMembers;
  return {
    format: plain(format),
    name: nullable(plain(name)),
    extends: plain(from),
    catalog: nullable(plain(catalog)),
    device: plain(device),
    frontends: nullable(plain(frontends)),
    ...sectionRefs(),
    only: { ...plain(only), items: { $ref: '#/$defs/block' } },
    allow: plain(allow),
    extra: plain(extra),
    refit: plain(refit),
  };
}

function layerSchema(kind: 'profile' | 'house', title: string, description: string, nameText: string): Schema {
  const bySection = Object.entries(sections()).map(([group, schema]) => [`section-${group}`, schema] as const);
  const parts = partsOf(profileParts);
  // A layer may also take away a whole instance, part or control that a lower one gave. What an instance must have is
  // asked once all layers are laid together, since each may say a part of it.
  const clearedByNull = ['device', 'device-controls', 'instance', 'part', 'listed-control'];
  const removable = clearedByNull.map((name) => [name, nullable(clearable(partial(asSchema(parts[name]))))] as const);
  return {
    title,
    description,
    type: 'object',
    properties: {
      [kind]: { type: 'string', pattern: namePattern, description: nameText, 'x-thumbwright': 'name' },
      ...layerMembers(),
    },
    required: [kind, 'format'],
    additionalProperties: false,
    $defs: {
      ...settingParts,
      ...parts,
      ...Object.fromEntries(removable),
      block: blockSchema(),
      ...Object.fromEntries(bySection),
    },
  };
}

/** A dialect's schema with a member for each setting, so that editors can offer their ids. */
function dialectSchema(): Schema {
  const shape = plain(DialectShape);
  const members = asSchema(shape['properties']);
  const spelling = plain(dialectParts.spelling);
  const records = plain(dialectParts.records);
  const entries = settings.map((setting) => [
    setting.id,
    { title: setting.id, description: hoverText(setting), $ref: '#/$defs/spellings' },
  ]);
  return {
    ...shape,
    title: 'Dialect',
    description: 'How one frontend spells the settings, over a range of its versions.',
    properties: {
      ...members,
      settings: {
        ...asSchema(members['settings']),
        properties: Object.fromEntries(entries) as unknown,
        additionalProperties: false,
      },
    },
    $defs: {
      ...partsOf(dialectParts),
      spellings: {
        ...spelling,
        type: ['object', 'array'],
        items: { $ref: '#/$defs/spelling' },
        description: 'How one setting is spelled, or a list by version or scope.',
      },
      'records-by-version': {
        ...records,
        type: ['object', 'array'],
        items: { $ref: '#/$defs/records' },
        description: 'Repeated elements, found by a field, or a list by version.',
      },
    },
  };
}

function catalogSchema(): Schema {
  return {
    ...plain(CatalogShape),
    title: 'Catalog',
    description: 'Game systems, their folders, file types, firmware and cores.',
    $defs: partsOf(catalogParts),
  };
}

function complete(kind: FileKind, schema: Schema): Schema {
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: `urn:thumbwright:schema:${kind}:1`,
    ...visit(schema, admitSourceTexts),
  };
}

/**
 * The JSON Schemas (2020-12) of the files that people write, for editors and for the validators. No `anyOf` or `oneOf`,
 * so that one mistake is one error. `x-thumbwright` says what a text is: `quantity:time`, `secret`, `control`, `bind`,
 * `place`, `core`, `name`, or `text` (any scalar, read from its source text).
 */
export function makeSchemas(): Readonly<Record<FileKind, Schema>> {
  return {
    profile: complete(
      'profile',
      layerSchema(
        'profile',
        'Profile',
        'One handheld: its facts, and where it differs from the house.',
        'Name of the profile and of its folder in out/: letters, digits, hyphens.',
      ),
    ),
    house: complete(
      'house',
      layerSchema(
        'house',
        'House',
        'What all handhelds share; profiles extend it.',
        'Name of the house: letters, digits, hyphens.',
      ),
    ),
    dialect: complete('dialect', dialectSchema()),
    catalog: complete('catalog', catalogSchema()),
  };
}
