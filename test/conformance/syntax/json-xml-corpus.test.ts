// Real general-purpose files of Debian packages (shared-mime-info, fontconfig-config, iso-codes, xkb-data, GLib's schemas)
// and of the npm packages here: kept byte for byte, every key set once, the outside reader seeing exactly that change.
// Readers: JSON.parse (ECMA-262), jq, expat (Python's xml.parsers.expat), libxml2's xmllint.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { arrayIndex, pointerSegments } from '../../../src/syntax/json/json-pointer.ts';
import { json } from '../../../src/syntax/json/json.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { Syntax, Tree } from '../../../src/syntax/contract.ts';
import { plainOf, withValueAt } from '../../support/syntax/edited-object.ts';
import type { Plain, Step } from '../../support/syntax/edited-object.ts';
import { readWithExpat, withIndexes } from '../../support/syntax/expat.ts';

/** Keys of one file that are set: all of a small file, evenly spread ones of a large file. */
const most = Number(process.env['THUMBWRIGHT_CORPUS_KEYS'] ?? 5);
const largest = 100_000;

function walk(folder: string, ending: RegExp, deep: number): readonly string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return deep > 0 ? walk(path, ending, deep - 1) : [];
    return entry.isFile() && ending.test(entry.name) && statSync(path).size > 0 && statSync(path).size < largest
      ? [path]
      : [];
  });
}

/** At most `count` of them, evenly spread. */
function spread<T>(all: readonly T[], count: number): readonly T[] {
  return all.length <= count
    ? all
    : Array.from({ length: count }, (_, k) => all[Math.floor((k * all.length) / count)]).filter(
        (one) => one !== undefined,
      );
}

const jsonFiles = [
  ...spread(walk('node_modules', /^(?:package|tsconfig.*|composer|bower)\.json$/, 2), 120),
  ...spread(walk('/usr/share', /\.json$/, 4), 40),
];
const xmlFiles = [
  ...walk('/usr/share/fontconfig/conf.avail', /\.conf$/, 0),
  ...spread(walk('/usr/share/mime', /\.xml$/, 1), 90),
  ...spread(walk('/usr/share/xml', /\.xml$/, 3), 20),
  ...spread(walk('/usr/share/glib-2.0/schemas', /\.xml$/, 0), 20),
  ...spread(walk('/usr/share/X11/xkb/rules', /\.xml$/, 0), 5),
];

function read(syntax: Syntax, path: string): { readonly tree: Tree; readonly text: string } {
  const bytes = readFileSync(path);
  const text = decodeBytes(bytes);
  const { tree, findings } = syntax.parse({ name: 'file', text }, {});
  if (tree === undefined) throw new Error(`${path}: ${findings[0]?.detail}`);
  expect(Buffer.compare(encodeText(tree.source.text), bytes), path).toBe(0);
  expect(syntax.change(tree, []).edits).toEqual([]);
  return { tree, text };
}

function setTo(syntax: Syntax, tree: Tree, path: string, text: string): string {
  const { edits, results } = syntax.change(tree, [{ op: 'set', path, value: { kind: 'scalar', text } }]);
  expect(results, path).toEqual([{ kind: 'changed' }]);
  expect(edits).toHaveLength(1);
  return applyEdits(tree.source.text, edits);
}

describe('json files', () => {
  test('are there in numbers', () => {
    expect(jsonFiles.length).toBeGreaterThanOrEqual(100);
  });
  test('every key set once, seen by JSON.parse', () => {
    let sets = 0;
    for (const file of jsonFiles) {
      const { tree, text } = read(json, file);
      // A few have comments: no reader here takes them.
      if (json.parse({ name: 'file', text }, { relaxed: false }).tree === undefined) continue;
      const parse = (of: string): Plain => plainOf(JSON.parse(of.replace(/^\ufeff/, '')));
      const before = parse(text);
      for (const { path } of spread(tree.keys(), most)) {
        let at: Plain | undefined = before;
        const steps = (pointerSegments(path) ?? []).map((segment): Step => {
          const index = Array.isArray(at) ? arrayIndex(segment) : undefined;
          at = Array.isArray(at) ? at[index ?? -1] : at instanceof Map ? at.get(segment) : undefined;
          return index ?? segment;
        });
        expect(parse(setTo(json, tree, path, 'a "new" one')), `${file} ${path}`).toEqual(
          withValueAt(before, steps, 'a "new" one'),
        );
        sets += 1;
      }
    }
    expect(sets).toBeGreaterThan(500);
  });
  test('jq sees what JSON.parse sees', () => {
    const texts: string[] = [];
    for (const file of spread(jsonFiles, 40)) {
      const { tree, text } = read(json, file);
      if (json.parse({ name: 'file', text }, { relaxed: false }).tree === undefined) continue;
      const keys = tree.keys();
      const key = keys[Math.floor(keys.length / 2)];
      if (key !== undefined) texts.push(setTo(json, tree, key.path, 'a "new" \\ one é'));
    }
    const output = execFileSync('jq', ['-c', '.'], { input: texts.join('\n'), encoding: 'utf8', maxBuffer: 2 ** 28 });
    const seen = output
      .trimEnd()
      .split('\n')
      .map((line): unknown => JSON.parse(line));
    expect(seen).toEqual(texts.map((text): unknown => JSON.parse(text)));
    expect(texts.length).toBeGreaterThan(20);
  });
});

describe('xml files', () => {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('are there in numbers', () => {
    expect(xmlFiles.length).toBeGreaterThanOrEqual(100);
  });
  test('every key set once, seen by expat', () => {
    const asked: { readonly file: string; readonly path: string; readonly bytes: Uint8Array }[] = [];
    for (const file of xmlFiles) {
      const { tree, text } = read(xml, file);
      asked.push({ file, path: '', bytes: encodeText(text) });
      for (const { path } of spread(tree.keys(), most))
        asked.push({ file, path, bytes: encodeText(setTo(xml, tree, path, ' a <new> & "one"é')) });
    }
    const readings = readWithExpat(asked.map(({ bytes }) => bytes));
    let before: ReadonlyMap<string, string> = new Map();
    asked.forEach(({ file, path }, index) => {
      const reading = readings[index];
      if (reading === undefined || typeof reading === 'string')
        throw new Error(`${file} ${path}: expat says ${reading}`);
      if (path === '') before = reading;
      else
        expect(
          [...reading].filter(([key, value]) => before.get(key) !== value),
          `${file} ${path}`,
        ).toEqual([[withIndexes(path), ' a <new> & "one"é']]);
      if (path !== '') expect(reading.size).toBe(before.size);
    });
    expect(asked.length).toBeGreaterThan(500);
  });
  test('xmllint finds them well-formed, and reads what was set', () => {
    let compared = 0;
    for (const [order, file] of spread(xmlFiles, 40).entries()) {
      const { tree } = read(xml, file);
      const key = tree.keys().at(-1);
      if (key === undefined) continue;
      const changed = join(folder, `${order}.xml`);
      writeFileSync(changed, encodeText(setTo(xml, tree, key.path, ' a <new> & "one"')));
      // Local names, since XPath 1.0 cannot name elements of a default namespace without a binding.
      const steps = withIndexes(key.path).split('/').slice(1);
      const xpath = steps.map((step) => {
        const [, name = '', index = ''] = /^([^[]*)(.*)$/.exec(step) ?? [];
        return name.startsWith('@') ? `@*[name()='${name.slice(1)}']` : `*[name()='${name}']${index}`;
      });
      const output = execFileSync('xmllint', ['--nonet', '--xpath', `string(/${xpath.join('/')})`, changed], {
        encoding: 'utf8',
      });
      expect(output, `${file} ${key.path}`).toBe(' a <new> & "one"\n');
      compared += 1;
    }
    expect(compared).toBeGreaterThan(20);
  });
});
