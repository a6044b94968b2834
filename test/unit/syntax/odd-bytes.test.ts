// Bytes that no editor would keep: NUL, a lone CR, mixed line ends, bytes that are no UTF-8, a byte-order mark. Each syntax keeps
// them when nothing is set and when another key is, or refuses the whole text with a place and changes nothing.
import { describe, expect, it } from 'vitest';
import type { SyntaxName } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

interface Shape {
  /** A file with `odd` inside a value or comment, and a key after it. */
  readonly write: (odd: string, end: () => string) => string;
  readonly path: string;
  readonly value: string;
  /** What makes it refuse the text. */
  readonly refuses: readonly string[];
}

const shapes: Readonly<Record<Exclude<SyntaxName, 'template'>, Shape>> = {
  pairs: {
    write: (odd, end) => `a = x${odd}y${end()}# c${odd}${end()}b = 1${end()}`,
    path: 'b',
    value: '2',
    refuses: [],
  },
  ini: {
    write: (odd, end) => `[s]${end()}a = x${odd}y${end()}; c${odd}${end()}b = 1${end()}`,
    path: '[s] b',
    value: '2',
    refuses: [],
  },
  properties: {
    write: (odd, end) => `a=x${odd}y${end()}#c${odd}${end()}b=1${end()}`,
    path: 'b',
    value: '2',
    refuses: [],
  },
  lines: { write: (odd, end) => `a${odd}b${end()}c${end()}`, path: 'd', value: 'present', refuses: [] },
  // RFC 8259, section 7: control characters are escaped. Other bytes are let through.
  json: {
    write: (odd, end) => `{${end()}"a": "x${odd}y",${end()}"b": 1${end()}}${end()}`,
    path: '/b',
    value: '2',
    refuses: ['NUL'],
  },
  // TOML 1.0, "Comment" and "String": control characters are not permitted; "Newline": LF or CRLF.
  toml: {
    write: (odd, end) => `a = "x${odd}y"${end()}b = 1${end()}`,
    path: 'b',
    value: '2',
    refuses: ['NUL', 'a lone CR'],
  },
  // YAML 1.2.2, section 5.1: a NUL is not printable. Its section 5.4 takes a lone CR for a line end; the yaml package does not.
  yaml: {
    write: (odd, end) => `a: "x${odd}y"${end()}b: 1${end()}`,
    path: 'b',
    value: '2',
    refuses: ['NUL', 'a lone CR'],
  },
  // XML 1.0, section 2.2: a NUL is no character.
  xml: {
    write: (odd, end) => `<t>${end()}<a>x${odd}y</a>${end()}<b>1</b>${end()}</t>${end()}`,
    path: '/t/b',
    value: '2',
    refuses: ['NUL'],
  },
};

const odds: Readonly<Record<string, readonly number[]>> = {
  NUL: [0],
  'bytes that are no UTF-8': [0xe9, 0xff, 0xc3, 0x28],
  'a surrogate in UTF-8': [0xed, 0xa0, 0x80],
  nothing: [],
};
const ends: Readonly<Record<string, readonly string[]>> = {
  LF: ['\n'],
  CRLF: ['\r\n'],
  'a lone CR': ['\r'],
  'mixed ends': ['\r\n', '\n', '\r'],
};

const marks: Readonly<Record<string, readonly number[]>> = { 'no mark': [], 'a byte-order mark': [0xef, 0xbb, 0xbf] };

describe.each(Object.entries(shapes))('%s', (name, { write, path, value, refuses }) => {
  const syntax = Object.values(syntaxes).find((one) => one.name === name);
  const cases = Object.keys(odds).flatMap((odd) =>
    Object.keys(ends).flatMap((end) => Object.keys(marks).map((mark) => [odd, end, mark] as const)),
  );
  it.each(cases)('keeps %s, with %s and %s', (odd, end, mark) => {
    if (syntax === undefined) throw new Error(`There is no syntax ${name}.`);
    let line = 0;
    const kinds = ends[end] ?? [];
    const [before = '', after = ''] = write('\ufffc', () => kinds[line++ % kinds.length] ?? '\n').split(/\ufffc(.*)/s);
    const oddBytes = Buffer.from(odds[odd] ?? []);
    const bytes = Buffer.concat([
      Buffer.from(marks[mark] ?? []),
      Buffer.from(before),
      oddBytes,
      ...after.split('\ufffc').flatMap((part, k) => [...(k === 0 ? [] : [oddBytes]), Buffer.from(part)]),
    ]);
    const source = { name: 'file', text: decodeBytes(bytes) };
    expect(Buffer.compare(encodeText(source.text), bytes)).toBe(0);
    const { tree, findings } = syntax.parse(source, {});
    if (tree === undefined) {
      expect(refuses.filter((one) => one === odd || one === end)).not.toEqual([]);
      expect(findings[0]?.place?.source).toBe(source);
      return;
    }
    const { edits, results } = syntax.change(tree, [{ op: 'set', path, value: { kind: 'scalar', text: value } }]);
    expect(results).toEqual([{ kind: 'changed' }]);
    const text = applyEdits(source.text, edits);
    expect(syntax.parse({ name: 'file', text }, {}).tree?.get(path)).toMatchObject({ kind: 'scalar', text: value });
    // Nothing but the one value, or the one new line, is other than it was.
    const now = Buffer.from(encodeText(text));
    let same = 0;
    while (same < bytes.length && now[same] === bytes[same]) same += 1;
    let tail = 0;
    while (tail < bytes.length - same && now[now.length - 1 - tail] === bytes[bytes.length - 1 - tail]) tail += 1;
    expect(bytes.length - same - tail).toBeLessThanOrEqual(1);
    expect(now.length - same - tail).toBeLessThanOrEqual(4);
  });
});
