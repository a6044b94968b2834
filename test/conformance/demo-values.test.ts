// Every value of the demo, read back out of what `build` makes by readers that are not ours (Python's configparser, tomllib and expat,
// jq, xmllint, sh, and for pairs a reader written for the test), is what a person worked out from the profiles and dialects: the
// tables in demo-values/. Ranks of buttons there follow SDL's Linux joystick order; Withy's numbers are the W3C's
// (https://www.w3.org/TR/gamepad/#remapping).
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { nodeFiles } from '../../src/files/node.ts';
import { hostPath, splitCardPath } from '../../src/model/paths.ts';
import { openProject, profilePaths, runProfile } from '../../src/pipeline.ts';
import { encodeText } from '../../src/text/encoding.ts';
import { readOutside, xpathText } from '../support/demo/read-outside.ts';

const root = new URL('../..', import.meta.url).pathname.replace(/\/$/, '');
const devices = ['fen', 'tarn', 'mere'] as const;

/** In a table: no such key stands there any more. */
const gone = '(gone)';

interface Row {
  /** Ids of the vocabulary; what follows a comma is what it is given for alone. */
  readonly setting: string;
  readonly file: string;
  readonly key: string;
  readonly text: string;
}

function tableOf(device: string): readonly Row[] {
  const lines = readFileSync(join(root, 'test/conformance/demo-values', `${device}.tsv`), 'utf8').split('\n');
  return lines
    .filter((line) => line !== '' && !line.startsWith('#'))
    .slice(1)
    .map((line) => {
      const [setting, instance, file, key, text, ...more] = line.split('\t');
      if (
        setting === undefined ||
        instance === undefined ||
        file === undefined ||
        key === undefined ||
        text === undefined ||
        more.length > 0
      )
        throw new Error(`Not five columns: ${line}`);
      return { setting: setting.replace(/,.*/, ''), file, key, text };
    });
}

/** Where an emitted file has its stock, by the end of the instance's root. */
const stock: Readonly<Record<string, string>> = {
  'settings/hall': 'harrow/stock/2.1.4',
  'settings/annex': 'harrow/stock/2.1.4',
  'settings/withy': 'withy/stock/0.8.2',
  'games/sill': 'sill/stock/4.0.2',
  'games/coble': 'coble/stock/1.6.0',
  settings: 'sedge/stock/3.2.1',
};

function stockOf(file: string): string {
  const at = Object.keys(stock).find((folder) => file.startsWith(`${folder}/`)) ?? '';
  return join(root, 'profiles/dialects', stock[at] ?? '', relative(at, file));
}

function filesBelow(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
    .sort();
}

/** Sections of a profile that describe the device or the work, not settings. */
const facts: ReadonlySet<string> = new Set([
  'house',
  'profile',
  'format',
  'name',
  'extends',
  'catalog',
  'device',
  'frontends',
  'only',
  'allow',
  'refit',
]);

type Mapping = Readonly<Record<string, unknown>>;
const isMapping = (value: unknown): value is Mapping =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function mappingAt(file: string): Mapping {
  const read: unknown = parse(readFileSync(join(root, 'profiles', file), 'utf8'));
  if (!isMapping(read)) throw new Error(`${file} is no mapping.`);
  return read;
}

/** The profile over its house: key by key; null takes away. */
function over(low: Mapping, high: Mapping): Mapping {
  const merged: Record<string, unknown> = { ...low };
  for (const [key, value] of Object.entries(high)) {
    const below = merged[key];
    merged[key] = isMapping(value) && isMapping(below) ? over(below, value) : value;
  }
  return merged;
}

function leavesOf(value: unknown, path: string): readonly string[] {
  if (value === null) return [];
  return isMapping(value)
    ? Object.entries(value).flatMap(([key, item]) => leavesOf(item, path === '' ? key : `${path}.${key}`))
    : [path];
}

/** Dotted paths of every value that a device's layers set, by a merge written for the test. */
function pathsSet(device: string): readonly string[] {
  const merged = over(mappingAt('house.yaml'), mappingAt(`${device}.yaml`));
  const only = Array.isArray(merged['only']) ? merged['only'].filter(isMapping) : [];
  const settings = (section: Mapping): Mapping =>
    Object.fromEntries(Object.entries(section).filter(([key]) => !facts.has(key) && key !== 'for'));
  return [settings(merged), ...only.map(settings)].flatMap((section) => leavesOf(section, ''));
}

/** Each file is read once: a start of an outside reader takes long. */
const read = new Map<string, ReturnType<typeof readOutside>>();
function leavesIn(file: string): ReturnType<typeof readOutside> {
  const leaves = read.get(file) ?? readOutside(file);
  read.set(file, leaves);
  return leaves;
}

/** How many keys the build says it set in a file, by the file's path below `out`; none of one that is wholly ours. */
const keysSet = new Map<string, number>();

let out = '';
beforeAll(() => {
  out = mkdtempSync(join(tmpdir(), 'demo-values-'));
  const project = openProject(nodeFiles, hostPath(root)).value;
  if (project === undefined) throw new Error('The demo is no workspace.');
  for (const { path } of profilePaths(project)) {
    const { name, built } = runProfile(project, path, { card: undefined, newest: false });
    for (const file of built?.files ?? []) {
      const card = splitCardPath(file.path);
      const to = join(out, name, card.part, card.path);
      if (file.whole === undefined)
        keysSet.set(join(name, card.part, card.path), file.keys.filter(({ edit }) => edit.record === undefined).length);
      mkdirSync(dirname(to), { recursive: true });
      writeFileSync(to, encodeText(file.text));
    }
  }
});
afterAll(() => {
  rmSync(out, { recursive: true, force: true });
});

describe.each(devices)('%s', (device) => {
  const table = tableOf(device);
  const files = [...new Set(table.map(({ file }) => file))].sort();

  test('emits the files of the table and no other', () => {
    expect(filesBelow(join(out, device))).toEqual(files);
  });

  test.each(files)('%s says what the table says', (file) => {
    const leaves = leavesIn(join(out, device, file));
    const rows = table.filter((row) => row.file === file);
    expect(rows.map(({ key }) => [key, leaves.get(key) ?? gone])).toEqual(rows.map(({ key, text }) => [key, text]));
    const stand = rows.filter(({ text }) => text !== gone);
    if (file.endsWith('.xml'))
      expect(stand.map(({ key }) => xpathText(join(out, device, file), key))).toEqual(stand.map(({ text }) => text));
  });

  test.each(files)('%s differs from its stock only where the table says so', (file) => {
    const before = leavesIn(stockOf(file));
    const after = leavesIn(join(out, device, file));
    const listed = new Set(table.filter((row) => row.file === file).map(({ key }) => key));
    const unlisted = [...new Set([...before.keys(), ...after.keys()])].filter(
      (key) => before.get(key) !== after.get(key) && !listed.has(key),
    );
    expect(unlisted).toEqual([]);
  });

  test.each(files)('every key that was set in %s has a row', (file) => {
    // A list has a row for each of its items. What records hold is told above, field by field.
    const keys = new Set(
      table
        .filter((row) => row.file === file && !/^(games\.|menus\.hidden-systems)/.test(row.setting))
        .map(({ key }) => key.replace(/\/\d+$/, '')),
    );
    expect(keys.size).toBe(keysSet.get(join(device, file)) ?? keys.size);
    expect(keys.size).toBeGreaterThan(0);
  });

  test('every value that the layers set has a row', () => {
    const settings = [...new Set(table.map(({ setting }) => setting))];
    const without = pathsSet(device).filter(
      (path) => !settings.some((setting) => path === setting || path.startsWith(`${setting}.`)),
    );
    expect(without).toEqual([]);
  });
});
