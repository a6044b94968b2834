import { Type } from '@sinclair/typebox';
import type { SchemaOptions, TSchema, TUnsafe } from '@sinclair/typebox';

/**
 * Building blocks of the shapes. No `anyOf`/`oneOf`: a place that takes several kinds lists them in `type`, so that
 * one mistake gives one error. A scalar whose only scalar type is `string` is read from its source text.
 */
export const text = (description: string, options: SchemaOptions = {}): TUnsafe<string> =>
  Type.Unsafe<string>({ type: 'string', description, ...options });

export const word = <const W extends readonly string[]>(
  of: W,
  description: string,
  options: SchemaOptions = {},
): TUnsafe<W[number]> => Type.Unsafe<W[number]>({ type: 'string', enum: of, description, ...options });

export const flag = (description: string, options: SchemaOptions = {}): TUnsafe<boolean> =>
  Type.Unsafe<boolean>({ type: 'boolean', description, ...options });

export const whole = (description: string, options: SchemaOptions = {}): TUnsafe<number> =>
  Type.Unsafe<number>({ type: 'integer', description, ...options });

export const number = (description: string, options: SchemaOptions = {}): TUnsafe<number> =>
  Type.Unsafe<number>({ type: 'number', description, ...options });

export const texts = (description: string, options: SchemaOptions = {}): TUnsafe<readonly string[]> =>
  Type.Unsafe<readonly string[]>({ type: 'array', items: { type: 'string' }, description, ...options });

export const textOrTexts = (description: string, options: SchemaOptions = {}): TUnsafe<string | readonly string[]> =>
  Type.Unsafe<string | readonly string[]>({
    type: ['string', 'array'],
    items: { type: 'string' },
    description,
    ...options,
  });

/** A member that may be left out. */
export const optional = <T extends TSchema>(schema: T) => Type.Optional(schema);

/** A mapping whose keys are the person's own names. */
export const named = <T>(
  member: SchemaOptions,
  description: string,
  options: SchemaOptions = {},
): TUnsafe<Readonly<Record<string, T>>> =>
  Type.Unsafe<Readonly<Record<string, T>>>({ type: 'object', additionalProperties: member, description, ...options });

/** A shape that stands in `$defs` under this name; what `description` says is of this place. */
export const part = <T>(name: string, description?: string): TUnsafe<T> =>
  Type.Unsafe<T>({ $ref: `#/$defs/${name}`, ...(description === undefined ? {} : { description }) });

/** The names that people may give to profiles, houses, dialects and catalogs. */
export const namePattern = '^[a-z0-9]+(-[a-z0-9]+)*$';

/** Format of the file, a whole number that changes when older versions of thumbwright could no longer read it. */
export const formatOne = Type.Unsafe<1>({ type: 'integer', enum: [1], description: 'Format of this file: 1.' });
