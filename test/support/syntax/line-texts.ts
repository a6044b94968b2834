import fc from 'fast-check';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import type { Choices } from './choices.ts';

/** Line ends of one text: one kind, or mixed. */
function lineEnds(choose: Choices): () => string {
  const kind = choose.below(8);
  if (kind < 4) return () => '\n';
  if (kind < 6) return () => '\r\n';
  if (kind < 7) return () => '\r';
  return () => choose.of('\n', '\r\n', '\r');
}

/** Joins lines, sometimes without the last line end and with a byte-order mark. */
export function joinLines(choose: Choices, lines: readonly string[]): string {
  const end = lineEnds(choose);
  const text = lines.map((line) => line + end()).join('');
  const mark = choose.rarely(8) ? '\ufeff' : '';
  return mark + (choose.rarely(3) ? text.replace(/(?:\r\n|\n|\r)$/, '') : text);
}

/** Values of all kinds, `\udcXX` standing for bytes that are no UTF-8. Most have no mark that could be read as another thing. */
export const lineValues: fc.Arbitrary<SyntaxValue> = fc
  .oneof(
    {
      weight: 3,
      arbitrary: fc.constantFrom(
        '',
        '0',
        '12',
        'true',
        'word',
        'two words',
        'a=b',
        'x:y',
        '= y',
        ': z',
        '# no',
        'x # y',
        '; s',
        "it's",
        '"q"',
        'a"b',
        "'",
        '"',
        `"'`,
        ' lead',
        'trail ',
        '\t',
        'C:\\x',
        'end\\',
        '[x]',
        '[',
        'a,b',
        'é',
        '\udce9\udcff',
        '\u0000',
        '\u2028',
        '\ud83d\ude00',
        '\ufeff',
        'l1\nl2',
        '\r',
      ),
    },
    { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
    { weight: 1, arbitrary: fc.string({ maxLength: 6, unit: 'binary' }) },
  )
  .map((text): SyntaxValue => ({ kind: 'scalar', text }));

/** A value as a person writes it, mostly plain. */
export function writtenValue(choose: Choices): string {
  return choose.of(
    '1',
    '0',
    'on',
    'word',
    'two words',
    '"quoted text"',
    "'single'",
    '',
    '3.5',
    '/a/b',
    'a=b',
    'a:b',
    '"half',
    "it's",
    'x ; y',
    '"x # y"',
    'é',
    '\udce9',
    'a,b',
    '"a" "b"',
    '\u0000',
  );
}

/** Names that most texts have some of, with parts in common. */
export function writtenName(choose: Choices): string {
  return choose.of(
    'a',
    'b',
    'key',
    'video_w',
    'video_h',
    'video_mode_x',
    'x.y',
    'x.z',
    'Key',
    'é',
    'n-1',
    'n-2',
    'k1',
    'k2',
    '__proto__',
    'constructor',
    '\udce9',
  );
}

export const newNames = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.constantFrom(
      'new',
      'video_new',
      'x.new',
      'n-new',
      'video_mode_new',
      'soft',
      'hidden',
      'toString',
      'two words',
      'KEY',
      '9',
    ),
  },
  { weight: 1, arbitrary: fc.string({ minLength: 1, maxLength: 6 }) },
);
