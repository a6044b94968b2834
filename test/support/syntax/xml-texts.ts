import fc from 'fast-check';

const blanks = fc.constantFrom('', '', ' ', '\n', '\n  ', '\r\n\t', '\n\n    ', '\r', '  ');
const name = fc.constantFrom('a', 'b', 'key', 'x.y', 'n:s', 'é', 'a-1');
const characters = fc
  .string({
    maxLength: 6,
    unit: fc.constantFrom(
      'a',
      'b',
      ' ',
      '\n',
      '&lt;',
      '&amp;',
      '&#233;',
      '&#x20;',
      'é',
      '\udce9',
      ']',
      '>',
      '"',
      "'",
      '\r\n',
    ),
  })
  .filter((text) => !text.includes(']]>'));
const markup = fc.constantFrom('<!-- c -->', '<?p i?>', '<!---->', '<![CDATA[c & <d>]]>', '<![CDATA[]]>');
const attribute = fc
  .tuple(blanks, name, fc.constantFrom('=', ' = ', '=\n'), characters, fc.constantFrom('"', "'"))
  .map(([blank, key, equals, value, quote]) => ({
    key,
    text: `${blank === '' ? ' ' : blank}${key}${equals}${quote}${value.replaceAll(quote, '')}${quote}`,
  }));
const attributes = fc
  .uniqueArray(attribute, { maxLength: 3, selector: ({ key }) => key })
  .chain((list) => blanks.map((blank) => list.map(({ text }) => text).join('') + blank));

/** An XML text: any layout, with several top elements when `fragment`. */
export function xmlText(fragment: boolean): fc.Arbitrary<string> {
  const { element } = fc.letrec<{ element: string; content: string; piece: string }>((tie) => ({
    element: fc.oneof(
      { maxDepth: 3, depthSize: 'small' },
      fc.tuple(name, attributes).map(([tag, list]) => `<${tag}${list}/>`),
      fc
        .tuple(name, attributes, fc.oneof(blanks, characters))
        .map(([tag, list, text]) => `<${tag}${list}>${text}</${tag}>`),
      fc.tuple(name, attributes, tie('content')).map(([tag, list, content]) => `<${tag}${list}>${content}</${tag}>`),
    ),
    content: fc.array(fc.tuple(blanks, tie('piece'), blanks), { maxLength: 4 }).map((parts) => {
      // Comments beside elements are marked: they stay whatever key is changed or taken out.
      const beside = parts.some(([, piece]) => /^<[^!?]/.test(piece));
      return parts
        .flatMap(([a, piece, b]) => [a, beside && piece === '<!-- c -->' ? '<!-- note -->' : piece, b])
        .join('');
    }),
    piece: fc.oneof(
      { weight: 6, arbitrary: tie('element') },
      { weight: 1, arbitrary: markup },
      { weight: 1, arbitrary: characters },
    ),
  }));
  const head = fc.constantFrom(
    '',
    '',
    '\ufeff',
    '<?xml version="1.0"?>\n',
    '<?xml version="1.0" encoding="UTF-8"?>\r\n<!DOCTYPE a>\n',
  );
  const tops = fragment
    ? fc.array(fc.tuple(element, blanks), { minLength: 2, maxLength: 4 }).map((parts) => parts.flat().join(''))
    : fc.tuple(fc.constantFrom('', '<!-- c -->\n', '<?p i?>'), element, blanks).map((parts) => parts.join(''));
  return fc.tuple(fragment ? fc.constantFrom('', '\ufeff') : head, tops).map((parts) => parts.join(''));
}
