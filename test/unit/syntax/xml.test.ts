import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Change, Style, SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { xmlText } from '../../support/syntax/xml-texts.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

function tree(text: string, style: Style = {}): Tree {
  const { tree, findings } = xml.parse({ name: 'a.xml', text }, style);
  expect(findings).toEqual([]);
  if (tree === undefined) throw new Error('no tree');
  return tree;
}
function change(text: string, ...changes: Change[]): string {
  const t = tree(text);
  const { edits, results } = xml.change(t, changes);
  for (const r of results) if (r.kind === 'refused') throw new Error(`${r.finding.code}: ${r.finding.detail}`);
  return applyEdits(text, edits);
}
const text = (text: string): SyntaxValue => ({ kind: 'scalar', text });
const set = (path: string, value: string): Change => ({ op: 'set', path, value: text(value) });
const remove = (path: string): Change => ({ op: 'remove', path });

describe('xml puts a new element where a person would, and takes it out again', () => {
  test.each<[string, string, string]>([
    ['<s>\n  <a>1</a>\n</s>\n', '/s/b', '<s>\n  <a>1</a>\n  <b>v</b>\n</s>\n'],
    ['<s>\r\n\t<a>1</a> <!-- about a -->\r\n</s>', '/s/b', '<s>\r\n\t<a>1</a> <!-- about a -->\r\n\t<b>v</b>\r\n</s>'],
    ['<s><a>1</a><c/></s>', '/s/a[2]', '<s><a>1</a><a>v</a><c/></s>'],
    ['<s/>', '/s/a', '<s>\n  <a>v</a></s>'],
    ['<s></s>', '/s/a', '<s><a>v</a></s>'],
    ['<s>\n</s>', '/s/a', '<s>\n  <a>v</a>\n</s>'],
    // A line feed put after a bare carriage return would make one line end of the two.
    ['<s\n>\r\r\n\t</s>', '/s/a', '<s\n>\r\r\n\t  <a>v</a>\r\n\t</s>'],
    ['<s\n>\r\r</s>', '/s/a', '<s\n>\r\r  <a>v</a>\r</s>'],
    ['<s>\n  <t>\n  </t>\n</s>', '/s/t/a', '<s>\n  <t>\n    <a>v</a>\n  </t>\n</s>'],
    ['<s a="1"/>', '/s/@b', '<s a="1" b="v"/>'],
    ["<s a='1'\n   c='2'>x</s>", '/s/@b', "<s a='1'\n   c='2'\n   b='v'>x</s>"],
    ['<s />', '/s/@b', '<s b="v" />'],
    [
      '<s>\n  <o name="x" value="1"/>\n</s>',
      "/s/o[@name='y']/@value",
      '<s>\n  <o name="x" value="1"/>\n  <o name="y" value="v"/>\n</s>',
    ],
    [
      '<g>\n <game><path>a</path></game>\n</g>',
      "/g/game[path='b']/loved",
      '<g>\n <game><path>a</path></game>\n <game>\n  <path>b</path>\n  <loved>v</loved>\n </game>\n</g>',
    ],
    ['<a n="1"/>\n<a n="2"/>\n', "/a[@n='3']/@v", '<a n="1"/>\n<a n="2"/>\n<a n="3" v="v"/>\n'],
    ['', '/s/t/a', '<s>\n  <t>\n    <a>v</a>\n  </t>\n</s>\n'],
  ])('%j + %s', (before, path, after) => {
    expect(change(before, set(path, 'v'))).toBe(after);
    expect(tree(after).get(path)).toEqual(text('v'));
    if (before !== '' && !path.includes('=')) expect(change(after, remove(path))).toBe(before);
  });
});

test('two changes of one missing element make one element', () => {
  expect(change('<s>\n  <x/>\n</s>', set("/s/o[@name='y']/@value", '1'), set("/s/o[@name='y']/@kind", 'k'))).toBe(
    '<s>\n  <x/>\n  <o name="y" value="1" kind="k"/>\n</s>',
  );
});

test('what fills an empty element comes before what follows it', () => {
  expect(change('<b/>', set('/b[2]/key', '1'), set('/b[1]/new', '2'))).toBe(
    '<b>\n  <new>2</new></b>\n<b>\n  <key>1</key>\n</b>',
  );
});

test('an existing text is written in its own way', () => {
  expect(change('<a/>', set('/a', 'x & y'))).toBe('<a>x &amp; y</a>');
  expect(change('<a><![CDATA[x]]></a>', set('/a', 'x & y'))).toBe('<a><![CDATA[x & y]]></a>');
  expect(change('<a><![CDATA[x]]></a>', set('/a', ']]>'))).toBe('<a>]]&gt;</a>');
  expect(change('<a>x<!-- c -->y</a>', set('/a', 'z'))).toBe('<a>z<!-- c --></a>');
  expect(change("<a b='x'/>", set('/a/@b', `'"`))).toBe(`<a b='&apos;"'/>`);
});

const value = fc.string({
  maxLength: 6,
  unit: fc.constantFrom('a', 'b', ' ', '\n', '\t', '\r', '<', '&', '"', "'", ']', '>', 'é', '😀'),
});

describe('xml laws', () => {
  for (const fragment of [false, true]) {
    test(`each key set, gone and back${fragment ? ' in fragments' : ''}`, () => {
      fc.assert(
        fc.property(xmlText(fragment), value, fc.nat(), (before, wanted, pick) => {
          const t = tree(before);
          const keys = t.keys();
          for (const key of keys) {
            const now = t.get(key.path);
            expect(now, key.path).toBeDefined();
            if (now !== undefined) expect(xml.change(t, [{ op: 'set', path: key.path, value: now }]).edits).toEqual([]);
          }
          const key = keys[pick % Math.max(keys.length, 1)];
          if (key === undefined) return;
          const after = change(before, set(key.path, wanted));
          const now = tree(after);
          expect(now.get(key.path)).toEqual(text(wanted));
          expect(now.keys().map(({ path }) => path)).toEqual(keys.map(({ path }) => path));
          for (const other of keys) if (other.path !== key.path) expect(now.get(other.path)).toEqual(t.get(other.path));
        }),
        { numRuns: runs },
      );
    });
    test(`insert then remove gives the first bytes${fragment ? ' in fragments' : ''}`, () => {
      fc.assert(
        fc.property(xmlText(fragment), value, fc.nat(), fc.boolean(), (before, wanted, pick, attribute) => {
          const t = tree(before);
          const parents = new Set(
            t.keys().flatMap(({ path }) => {
              const steps = path
                .replace(/\/@.*$/, '')
                .split('/')
                .slice(1);
              return steps.map((_, index) => `/${steps.slice(0, index + 1).join('/')}`);
            }),
          );
          const list = [...parents];
          const parent = list[pick % Math.max(list.length, 1)];
          if (parent === undefined) return;
          const path = attribute ? `${parent}/@new` : `${parent}/new`;
          const { edits, results } = xml.change(t, [set(path, wanted)]);
          if (results[0]?.kind === 'refused') {
            expect(results[0].finding.detail).toContain('a text stands');
            return;
          }
          const after = applyEdits(before, edits);
          expect(tree(after).get(path)).toEqual(text(wanted));
          expect(change(after, remove(path))).toBe(before);
        }),
        { numRuns: runs },
      );
    });
  }
});
