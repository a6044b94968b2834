// Independent readers after our edits: Python's configparser and a ten-line Python reader, git config, and the table of
// java.util.Properties (OpenJDK 17.0.21, in the design's cases/properties-cases.json, copied beside the other standards' cases).
import { describe, expect, it } from 'vitest';
import type { Style } from '../../../src/syntax/contract.ts';
import { ini } from '../../../src/syntax/ini/ini.ts';
import { pairs } from '../../../src/syntax/pairs/pairs.ts';
import { properties } from '../../../src/syntax/properties/properties.ts';
import type { Syntax } from '../../../src/syntax/contract.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import iniCases from '../../support/standards/ini-dialect-cases.json' with { type: 'json' };
import propertiesCases from '../../support/standards/properties-cases.json' with { type: 'json' };
import { readByGit, readByPython } from '../../support/second-readers.ts';
import { requireTool } from '../../support/tool.ts';

function set(syntax: Syntax, text: string, style: Style, path: string, value: string): string | undefined {
  const { tree } = syntax.parse({ name: 'text', text }, style);
  if (tree === undefined) return undefined;
  const { edits, results } = syntax.change(tree, [{ op: 'set', path, value: { kind: 'scalar', text: value } }]);
  return results[0]?.kind === 'refused' ? undefined : applyEdits(text, edits);
}

const asConfigparser: Style = { quote: 'none', separator: '=' };
const asGit: Style = { inlineComments: true, foldCase: true, quote: 'double', separator: ' = ' };
const texts = Object.entries(iniCases.cases).map(([name, { text }]) => [name, text] as const);
const values = ['7', 'two words', '', 'a=b', '100%', 'C:/x', 'é'];

describe('ini', () => {
  it.skipIf(requireTool('python3', 'python3'))('reads and writes as configparser does, in every dialect trap', () => {
    const edited: { name: string; value: string; text: string }[] = [];
    for (const [name, text] of texts) {
      for (const value of values) {
        const after = set(ini, text, asConfigparser, '[s] k', value);
        if (after !== undefined) edited.push({ name, value, text: after });
      }
    }
    const read = readByPython(
      'configparser',
      edited.map(({ text }) => text),
    );
    // Refused whatever is in the key: no section header first, a mark before it, a colon-only line is a key without value.
    const refused = new Set<string>();
    let agreed = 0;
    edited.forEach(({ name, value }, k) => {
      const held = read[k];
      if (held === undefined || held === null) refused.add(name);
      else {
        // An indented line below the key is a part of its value for configparser, and a line of its own here.
        const own = new Map(held).get('[s] k');
        if (name === 'indented continuation') expect(own?.split('\n')[0]).toBe(value);
        else expect([name, own]).toEqual([name, value]);
        agreed += 1;
      }
    });
    expect([...refused].sort()).toEqual(['UTF-8 BOM', 'key before any section'].filter((name) => refused.has(name)));
    expect(agreed).toBeGreaterThan(100);
  });

  it.skipIf(requireTool('git', 'git'))('is read by git config as it was set', () => {
    let agreed = 0;
    for (const [name, text] of texts) {
      for (const value of values) {
        const after = set(ini, text, asGit, '[s] k', value);
        const held = after === undefined ? undefined : readByGit(after);
        if (held === undefined) continue;
        expect([name, new Map(held).get('s.k')]).toEqual([name, value]);
        agreed += 1;
      }
    }
    expect(agreed).toBeGreaterThan(80);
  });
});

describe('pairs', () => {
  it.skipIf(requireTool('python3', 'python3'))('are read by a ten-line reader as they were set', () => {
    const style: Style = { quote: 'none', separator: ' = ' };
    const text = '\ufeff# note\r\n[ head ]\r\nkey = 1\r\n;new = 3\n  other=2\rlast = x';
    const wanted: { path: string; value: string; text: string }[] = [];
    for (const path of ['key', 'other', 'last', 'new', 'key_two']) {
      for (const value of values) {
        const after = set(pairs, text, style, path, value);
        if (after !== undefined) wanted.push({ path, value, text: after });
      }
    }
    const [before] = readByPython('pairs', [text]);
    const read = readByPython(
      'pairs',
      wanted.map((one) => one.text),
    );
    expect(wanted).toHaveLength(35);
    wanted.forEach(({ path, value }, k) => {
      expect(Object.fromEntries(read[k] ?? [])).toEqual({ ...Object.fromEntries(before ?? []), [path]: value });
    });
  });
});

describe('properties', () => {
  it('reads the oracle table of java.util.Properties', () => {
    const { tree } = properties.parse({ name: 'text', text: propertiesCases.text }, {});
    const held = tree?.keys().map(({ path }): [string, unknown] => [path, tree.get(path)]);
    const wanted = Object.entries(propertiesCases.result).map(([path, text]) => [path, { kind: 'scalar', text }]);
    expect(Object.fromEntries(held ?? [])).toEqual(Object.fromEntries(wanted));
  });
});
