// Real general-purpose configuration files of this machine: each is parsed, kept byte for byte, and has every key set once; an
// independent reader must see exactly that. Files on which the reader and we differ from the start (values that go on at
// indented lines) are parsed and kept, and not counted.
import { describe, expect, it } from 'vitest';
import type { Change, Style, Syntax, Tree } from '../../../src/syntax/contract.ts';
import { ini } from '../../../src/syntax/ini/ini.ts';
import { pairs } from '../../../src/syntax/pairs/pairs.ts';
import { properties } from '../../../src/syntax/properties/properties.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { corpus } from '../../support/corpus.ts';
import { readByPython } from '../../support/second-readers.ts';
import { requireTool } from '../../support/tool.ts';

const most = Number(process.env['THUMBWRIGHT_CORPUS'] ?? 400);

function held(tree: Tree): Record<string, string> {
  const values = tree.keys().map(({ path }): [string, string] => {
    const value = tree.get(path);
    return [path, value?.kind === 'scalar' ? value.text : ''];
  });
  return Object.fromEntries(values);
}

function change(syntax: Syntax, tree: Tree, paths: readonly string[], value: (path: string) => string): string {
  const changes = paths.map((path): Change => ({ op: 'set', path, value: { kind: 'scalar', text: value(path) } }));
  const { edits, results } = syntax.change(tree, changes);
  expect(results.map(({ kind }) => kind)).toEqual(paths.map(() => 'changed'));
  return applyEdits(tree.source.text, edits);
}

/** How many files the reader and we agreed on, before and after. */
function holdTo(
  syntax: Syntax,
  style: Style,
  reader: 'configparser' | 'pairs',
  endings: readonly string[],
): { files: number; agreed: number; keys: number } {
  const trees: Tree[] = [];
  const files = corpus(endings, most);
  for (const { text, path } of files) {
    expect(decodeBytes(encodeText(text))).toBe(text);
    const { tree } = syntax.parse({ name: path, text }, style);
    if (tree === undefined) continue;
    const same = Object.entries(held(tree)).map(([key, value]): Change => ({
      op: 'set',
      path: key,
      value: { kind: 'scalar', text: value },
    }));
    expect([path, syntax.change(tree, same).edits]).toEqual([path, []]);
    trees.push(tree);
  }
  const first = readByPython(
    reader,
    trees.map((tree) => tree.source.text),
  );
  const agreed = trees.filter((tree, k) => {
    const ours = held(tree);
    const theirs = first[k];
    return (
      theirs !== undefined &&
      theirs !== null &&
      theirs.length > 0 &&
      JSON.stringify(sorted(ours)) === JSON.stringify(sorted(Object.fromEntries(theirs)))
    );
  });
  const wanted: { path: string; text: string; values: Record<string, string> }[] = [];
  let keys = 0;
  for (const tree of agreed) {
    const values = held(tree);
    const paths = Object.keys(values);
    keys += paths.length;
    const all = Object.fromEntries(paths.map((path, k) => [path, `set ${k}`]));
    wanted.push({ path: tree.source.name, text: change(syntax, tree, paths, (path) => all[path] ?? ''), values: all });
    // And some alone, so that a change that reaches too far is seen.
    for (const path of [paths[0], paths.at(-1), paths[paths.length >> 1]]) {
      if (path === undefined) continue;
      wanted.push({
        path: tree.source.name,
        text: change(syntax, tree, [path], () => 'set alone'),
        values: { ...values, [path]: 'set alone' },
      });
    }
  }
  const after = readByPython(
    reader,
    wanted.map(({ text }) => text),
  );
  wanted.forEach(({ path, values }, k) => {
    expect([path, sorted(Object.fromEntries(after[k] ?? []))]).toEqual([path, sorted(values)]);
  });
  return { files: files.length, agreed: agreed.length, keys };
}

function sorted(values: Record<string, string>): [string, string][] {
  return Object.entries(values).sort(([a], [b]) => (a < b ? -1 : 1));
}

describe('real files', () => {
  it.skipIf(requireTool('python3', 'python3'))('with sections, as configparser reads them', () => {
    const counts = holdTo(ini, { quote: 'none', separator: '=' }, 'configparser', [
      '.ini',
      '.cfg',
      '.desktop',
      '.service',
      '.socket',
      '.timer',
      '.target',
      '.mount',
    ]);
    console.log('ini', counts);
    expect(counts.agreed).toBeGreaterThan(20);
  });

  it.skipIf(requireTool('python3', 'python3'))('of pairs, as a ten-line reader reads them', () => {
    const counts = holdTo(pairs, { quote: 'none', separator: '=' }, 'pairs', ['.conf', '.env']);
    console.log('pairs', counts);
    expect(counts.agreed).toBeGreaterThan(20);
  });

  it('of properties are kept, and every key is set and read back', () => {
    let keys = 0;
    for (const { text, path } of corpus(['.properties'], most)) {
      const { tree } = properties.parse({ name: path, text }, {});
      if (tree === undefined) continue;
      const paths = Object.keys(held(tree));
      keys += paths.length;
      const after = properties.parse(
        { name: path, text: change(properties, tree, paths, (key) => `set ${key}`) },
        {},
      ).tree;
      expect(after === undefined ? undefined : held(after)).toEqual(
        Object.fromEntries(paths.map((key) => [key, `set ${key}`])),
      );
    }
    expect(keys).toBeGreaterThanOrEqual(0);
  });
});
