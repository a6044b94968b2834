import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { json } from '../../../src/syntax/json/json.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { Change, SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { jsonText } from '../../support/syntax/json-texts.ts';
import { parse as parseRelaxed } from 'jsonc-parser';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

function tree(text: string): Tree {
  const { tree, findings } = json.parse({ name: 'a.json', text }, {});
  expect(findings).toEqual([]);
  if (tree === undefined) throw new Error('no tree');
  return tree;
}
function change(text: string, ...changes: Change[]): string {
  const t = tree(text);
  const { edits, results } = json.change(t, changes);
  for (const r of results) if (r.kind === 'refused') throw new Error(`${r.finding.code}: ${r.finding.detail}`);
  return applyEdits(text, edits);
}
const text = (text: string): SyntaxValue => ({ kind: 'scalar', text });
const bare = (text: string): SyntaxValue => ({ kind: 'scalar', text, literal: true });
const set = (path: string, value: SyntaxValue): Change => ({ op: 'set', path, value });
const remove = (path: string): Change => ({ op: 'remove', path });

describe('json puts a new member where a person would', () => {
  test.each<[string, string, string]>([
    ['{}', '/a', '{\n  "a": 1\n}'],
    ['', '/a', '{\n  "a": 1\n}\n'],
    ['', '/a/b', '{\n  "a": {\n    "b": 1\n  }\n}\n'],
    ['{"x":1}', '/a', '{"x":1,"a":1}'],
    ['{ "x": 1 }', '/a', '{ "x": 1, "a": 1 }'],
    ['{ "x": 1, "y": {} }', '/y/a', '{ "x": 1, "y": { "a": 1 } }'],
    ['{\n\t"x": 1\n}\n', '/a', '{\n\t"x": 1,\n\t"a": 1\n}\n'],
    ['{\n\t"x": {}\n}\n', '/x/a', '{\n\t"x": {\n\t\t"a": 1\n\t}\n}\n'],
    ['{\r\n  "x": 1, // about x\r\n}', '/a', '{\r\n  "x": 1, // about x\r\n  "a": 1,\r\n}'],
    ['{\n  "x": 1 // about x\n}', '/a', '{\n  "x": 1, // about x\n  "a": 1\n}'],
    ['{"x": 1 // about x\n}', '/a', '{"x": 1, // about x\n  "a": 1\n}'],
    ['{\n  // none yet\n}', '/a', '{\n  // none yet\n  "a": 1\n}'],
    ['[1, 2]', '/2', '[1, 2, 1]'],
    ['{"x": [\n  1,\n  2\n]}', '/x/2', '{"x": [\n  1,\n  2,\n  1\n]}'],
  ])('%j + %s', (before, path, after) => {
    expect(change(before, set(path, bare('1')))).toBe(after);
    if (before !== '' && path !== '/a/b') expect(change(after, remove(path))).toBe(before);
  });
});

test('several changes of one object are one edit of it', () => {
  const before = '{\n  "a": 1,\n  "b": 2,\n  "c": 3\n}';
  expect(change(before, remove('/c'), set('/d', text('x')), set('/e', text('y')))).toBe(
    '{\n  "a": 1,\n  "b": 2,\n  "d": "x",\n  "e": "y"\n}',
  );
  expect(change(before, remove('/a'), remove('/b'), remove('/c'))).toBe('{}');
  expect(change(before, remove('/a'), remove('/b'), remove('/c'), set('/d', bare('0')))).toBe('{\n  "d": 0\n}');
  expect(change(before, remove('/a'), set('/a', bare('0')))).toBe('{\n  "a": 0,\n  "b": 2,\n  "c": 3\n}');
});

test('a list keeps the items and comments that do not change', () => {
  const before = '{"l": [\n  "a", // first\n  "b",\n  "c" // last\n]}';
  const list = (...items: string[]): SyntaxValue => ({ kind: 'list', items: items.map((t) => ({ text: t })) });
  expect(change(before, set('/l', list('a', 'x', 'c')))).toBe('{"l": [\n  "a", // first\n  "x",\n  "c" // last\n]}');
  expect(change(before, set('/l', list('a', 'c')))).toBe('{"l": [\n  "a", // first\n  "c" // last\n]}');
  expect(change(before, set('/l', list('a', 'b', 'n', 'c')))).toBe(
    '{"l": [\n  "a", // first\n  "b",\n  "n",\n  "c" // last\n]}',
  );
  expect(change(before, set('/l', list('n', 'a', 'b', 'c')))).toBe(
    '{"l": [\n  "n",\n  "a", // first\n  "b",\n  "c" // last\n]}',
  );
});

const value: fc.Arbitrary<SyntaxValue> = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 6 }).map(text),
  fc.constantFrom('true', 'null', '0', '-1.5e3').map(bare),
  fc
    .array(
      fc.constantFrom('a', 'b', 'c').map((t) => ({ text: t })),
      { maxLength: 4 },
    )
    .map((items): SyntaxValue => ({ kind: 'list', items })),
);

/** The reference reading: jsonc-parser's own parser. */
const read = (t: string): unknown =>
  parseRelaxed(t.replace(/^\ufeff/, ''), undefined, { allowTrailingComma: true, allowEmptyContent: true });

describe('json laws', () => {
  test('each key set, gone and back', () => {
    fc.assert(
      fc.property(jsonText(true), value, fc.nat(), (before, wanted, pick) => {
        const t = tree(before);
        const keys = t.keys();
        for (const key of keys) {
          const now = t.get(key.path);
          expect(now).toBeDefined();
          if (now !== undefined) expect(json.change(t, [set(key.path, now)]).edits).toEqual([]);
        }
        const key = keys[pick % Math.max(keys.length, 1)];
        if (key === undefined) return;
        const after = change(before, set(key.path, wanted));
        expect(tree(after).get(key.path)).toEqual(wanted);
        const gone = key.path === '' ? before : change(before, remove(key.path));
        if (key.path !== '') expect(tree(gone).keys().length).toBeLessThan(keys.length + 2);
        read(gone);
      }),
      { numRuns: runs },
    );
  });
  test('insert then remove gives the first bytes', () => {
    fc.assert(
      fc.property(jsonText(true), value, fc.nat(), (before, wanted, pick) => {
        const objects: string[] = [];
        const walk = (v: unknown, path: string): void => {
          if (v === null || typeof v !== 'object') return;
          objects.push(path);
          for (const [k, x] of Object.entries(v)) walk(x, `${path}/${k.replaceAll('~', '~0').replaceAll('/', '~1')}`);
        };
        const whole = read(before);
        walk(whole, '');
        const parent = objects[pick % Math.max(objects.length, 1)];
        if (parent === undefined) return;
        let at: unknown = whole;
        for (const s of parent.split('/').slice(1))
          at = (at as Record<string, unknown>)[s.replaceAll('~1', '/').replaceAll('~0', '~')];
        const path = Array.isArray(at) ? `${parent}/${at.length}` : `${parent}/new`;
        const after = change(before, set(path, wanted));
        expect(tree(after).get(path)).toEqual(wanted);
        expect(change(after, remove(path))).toBe(before);
      }),
      { numRuns: runs },
    );
  });
});
