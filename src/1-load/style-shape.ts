import type { StyleWritten } from '../vocabulary/shapes/dialect.ts';

type Members = { readonly [Name in keyof StyleWritten]-?: (value: unknown) => boolean };

const isText = (value: unknown): boolean => typeof value === 'string';
const isFlag = (value: unknown): boolean => typeof value === 'boolean';
const isOneOf =
  (...words: readonly string[]) =>
  (value: unknown): boolean =>
    words.some((word) => word === value);

const members: Members = {
  separator: isText,
  comment: (value) => isText(value) || (Array.isArray(value) && value.every(isText)),
  'inline-comments': isFlag,
  quote: isOneOf('none', 'single', 'double', 'keep'),
  list: isText,
  duplicates: isOneOf('first', 'last', 'error'),
  continuation: isText,
  sections: isOneOf('merge', 'first', 'last'),
  'fold-case': isFlag,
  relaxed: isFlag,
  'line-end': isOneOf('lf', 'crlf'),
  indent: isText,
  siblings: isOneOf('end', 'start', 'sorted'),
};

/** Whether plain data is a style as a dialect writes it: what the schema checks there. */
export function isStyle(data: unknown): data is StyleWritten {
  if (typeof data !== 'object' || data === null) return false;
  return Object.entries(data).every(([name, value]) =>
    Object.entries(members).some(([known, fits]) => known === name && fits(value)),
  );
}
