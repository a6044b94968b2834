import { Type } from '@sinclair/typebox';
import type { Static } from '@sinclair/typebox';
import { flag, formatOne, named, namePattern, number, optional, part, text, texts, whole } from './kinds.ts';

const closed = { additionalProperties: false } as const;

const FirmwareFileShape = Type.Object(
  {
    file: text('File name that the core looks for.'),
    bytes: optional(whole('Size in bytes.', { minimum: 0 })),
    sha1: optional(text('SHA-1, 40 hex digits.', { pattern: '^[0-9a-f]{40}$' })),
    md5: optional(text('MD5, 32 hex digits.', { pattern: '^[0-9a-f]{32}$' })),
    crc32: optional(text('CRC-32, 8 hex digits.', { pattern: '^[0-9a-f]{8}$' })),
  },
  closed,
);

const FirmwareShape = Type.Object(
  {
    'any-of': Type.Array(FirmwareFileShape, { minItems: 1, description: 'One of these will do.' }),
    needed: optional(flag('Games do not start without it.')),
    folder: optional(text('Folder below the firmware root.')),
  },
  closed,
);

const SystemShape = Type.Object(
  {
    name: text('Name to show.'),
    folder: text('Folder below the games root.'),
    'also-called': optional(texts('Other folder names seen in collections.')),
    files: optional(
      Type.Unsafe<readonly string[]>({
        type: 'array',
        items: { type: 'string', pattern: '^\\.' },
        description: 'File endings.',
      }),
    ),
    'names-are-ids': optional(flag('File names identify games: never rename.')),
    discs: optional(flag('A game may have several discs.')),
    'frame-rate': optional(number('Frames a second.', { exclusiveMinimum: 0 })),
    firmware: optional(Type.Array(FirmwareShape, { description: 'Firmware that its cores look for.' })),
  },
  { ...closed, description: 'One game system.' },
);

const CoreShape = Type.Object(
  {
    name: optional(text('Name to show.')),
    systems: texts('Systems that it runs.', { minItems: 1 }),
    needs: optional(whole('Slowest device class that runs it well, 1 to 5.', { minimum: 1, maximum: 5 })),
    bits: optional(
      Type.Unsafe<readonly number[]>({
        type: 'array',
        items: { type: 'integer', enum: [32, 64] },
        description: 'Word sizes that it exists for.',
      }),
    ),
    states: optional(
      Type.Object(
        { reads: optional(texts('Versions, or ranges of them.')) },
        { ...closed, description: 'Versions whose states it reads.' },
      ),
    ),
    saves: optional(
      Type.Object(
        {
          'own-writer': optional(flag('It writes saves itself, whatever write-save-every says.')),
          format: optional(text("Save format; cores of one format read each other's saves.")),
        },
        { ...closed, description: 'How it keeps saves.' },
      ),
    ),
  },
  { ...closed, description: 'One core.' },
);

/** Parts of the catalog's schema that stand in its `$defs`. */
export const catalogParts = { system: SystemShape, core: CoreShape } as const;

/** A catalog file. */
export const CatalogShape = Type.Object(
  {
    catalog: text('Name of the catalog: letters, digits, hyphens.', { pattern: namePattern }),
    format: formatOne,
    version: text('Version of this file (semver).', { examples: ['1.0.0'] }),
    systems: named<Static<typeof SystemShape>>(part('system'), 'Game systems by id.'),
    cores: optional(named<Static<typeof CoreShape>>(part('core'), 'Cores by id.')),
  },
  closed,
);

export type CatalogWritten = Static<typeof CatalogShape>;
