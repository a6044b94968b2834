import fc from 'fast-check';

const blanks = fc.constantFrom('', '', ' ', '  ', '\n', '\n  ', '\r\n\t', '\n\n    ', '\r');
const comments = fc.constantFrom('/* c */', '// c\n', '/* two\nlines */', '// "a": 1, \r\n');
const name = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom('a', 'b', 'key', 'a/b', 'm~n', '', '0', '1', 'é', '__proto__', 'x y') },
  { weight: 1, arbitrary: fc.string({ maxLength: 6 }) },
);

/** A JSON text: any layout, comments and trailing commas too when `relaxed`, no duplicate members. */
export function jsonText(relaxed: boolean): fc.Arbitrary<string> {
  const gap: fc.Arbitrary<string> = relaxed
    ? fc.oneof(
        { weight: 6, arbitrary: blanks },
        { weight: 1, arbitrary: fc.tuple(blanks, comments, blanks).map((parts) => parts.join('')) },
      )
    : blanks;
  const scalar = fc.oneof(
    fc.string({ maxLength: 8, unit: 'grapheme' }).map((text) => JSON.stringify(text)),
    fc.constantFrom('true', 'false', 'null', '0', '-1.5', '1e3', '12.0', '"\\u00e9\\/"', '"\udce9"', '""'),
  );
  const trailing = relaxed ? fc.constantFrom('', '', '', ',') : fc.constant('');
  const joined = (open: string, parts: readonly string[], end: string, close: string, empty: string): string =>
    parts.length === 0 ? open + empty + close : open + parts.join(',') + end + close;
  const { value } = fc.letrec<{ value: string; array: string; list: string; object: string }>((tie) => ({
    value: fc.oneof({ maxDepth: 3, depthSize: 'small' }, scalar, tie('object'), tie('list'), tie('array')),
    list: fc
      .tuple(
        fc.array(
          fc.tuple(gap, scalar, gap).map((parts) => parts.join('')),
          { maxLength: 4 },
        ),
        trailing,
        gap,
      )
      .map(([items, end, empty]) => joined('[', items, end, ']', empty)),
    array: fc
      .tuple(
        fc.array(
          fc.tuple(gap, tie('value'), gap).map((parts) => parts.join('')),
          { maxLength: 4 },
        ),
        trailing,
        gap,
      )
      .map(([items, end, empty]) => joined('[', items, end, ']', empty)),
    object: fc
      .tuple(
        fc.uniqueArray(fc.tuple(name, gap, gap, gap, tie('value'), gap), { maxLength: 5, selector: ([key]) => key }),
        trailing,
        gap,
      )
      .map(([members, end, empty]) => {
        const parts = members.map(([key, a, b, c, v, d]) => `${a}${JSON.stringify(key)}${b}:${c}${v}${d}`);
        return joined('{', parts, end, '}', empty);
      }),
  }));
  return fc.tuple(fc.constantFrom('', '', '\ufeff'), gap, value, gap).map((parts) => parts.join(''));
}
