import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLens } from '../../src/dialect/make-lens.ts';
import { checkDialect } from '../../src/dialect/check-dialect.ts';
import type { Lens } from '../../src/dialect/contract.ts';
import type { DialectDocument } from '../../src/model/document.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import { dialectDocument } from '../support/dialect/dialect-document.ts';
import { layRecords, listIn } from '../support/dialect/lay-records.ts';
import type { Want } from '../support/dialect/lay-records.ts';
import { smallContext } from '../support/dialect/small-context.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 60);

/** A file with records that no dialect here could have written, and how records are addressed in it. */
const files = {
  json: {
    at: '/volumes',
    rows: '/doors',
    list: 'in/{{option.name}}',
    text: '{\n  "doors": [],\n  "volumes": [\n    { "title": "no leaf", "loved": "aye" },\n    { "leaf": 3, "n": [1] }\n  ]\n}\n',
  },
  xml: {
    at: '/quay/boat',
    rows: '/quay/fleet',
    list: 'in/{{option.name}}',
    text: '<quay>\n  <!-- kept -->\n  <boat><title>no leaf</title><loved>aye</loved></boat>\n  <boat>\n    <leaf>3</leaf>\n  </boat>\n</quay>\n',
  },
  toml: {
    at: 'volumes',
    rows: 'doors',
    list: 'in-{{option.name}}',
    text: '# kept\n[[volumes]]\ntitle = "no leaf"\nloved = "aye"\n\n[[volumes]]\nleaf = 3\n',
  },
  yaml: {
    at: 'volumes',
    rows: 'doors',
    list: 'in-{{option.name}}',
    text: '# kept\nvolumes:\n  - title: no leaf\n    loved: aye\n  - leaf: 3\n',
  },
} as const;

const offs = { text: ', off: nay', 'field-out': '', 'record-out': ', remove: true' } as const;
const paths = {
  plain: '',
  rooted: ', path: "./{{system.folder}}/{{game.path}}"',
  behind: ', path: "{{game.path}} ({{system.id}})"',
} as const;

/** `record-out` may only be said of records that say nothing else: each setting has elements of its own then. */
function dialectOf(syntax: keyof typeof files, off: keyof typeof offs, path: keyof typeof paths, named: boolean) {
  const { at, rows, list } = files[syntax];
  const apart = (name: string): string => (off === 'record-out' ? `${at}${name}` : at);
  const ends = `${offs[off]}${paths[path]}`;
  const listed = named
    ? `{ path: leaf, list: convoy }${ends}`
    : `{ path: leaf, list: "${list}" }, on: aye${offs[off]}${paths[path]}`;
  return dialectDocument(`
dialect: shelf
format: 1
version: 1.0.0
for-versions: ">=1"
role: menu
files: { shelf: { path: "{{root}}/shelf", syntax: ${syntax} } }
settings: {}
records:
  favourites: { file: shelf, at: ${apart('')}, fields: { path: leaf, favourite: loved }, on: aye${ends} }
  hidden: { file: shelf, at: ${apart('h')}, fields: { path: leaf, hidden: stowed }, on: aye${ends} }
  lists: { file: shelf, at: ${apart('l')}, fields: ${listed} }
  hidden-systems: { file: shelf, at: ${rows}, fields: { system: name, hidden: shut }, on: aye${offs[off]} }
`);
}

const system = fc.constantFrom('burdock', 'lathe', 'attic', 'porch');
const game = fc
  .tuple(system, fc.constantFrom('ash.leaf', 'two/elm.leaf', 'Fir & Oak (1).leaf', 'é.leaf', 'yew.leaf', '7'))
  .map(([of, path]) => `${of}/${path}`);
const gamesOf = fc.uniqueArray(game, { maxLength: 5 });
const systems = fc.uniqueArray(system, { maxLength: 3 });

function wantsOf(
  favourites: readonly string[],
  hidden: readonly string[],
  rainy: readonly string[],
  rows: readonly string[],
) {
  const want = (setting: string, texts: readonly string[], item?: string): Want => ({
    setting,
    item,
    value: { kind: 'texts', texts: [...texts] },
  });
  return [
    want('games.favourites', favourites),
    want('games.hidden', hidden),
    want('games.lists', rainy, 'rainy-day'),
    want('menus.hidden-systems', rows),
  ];
}
const wants = fc.tuple(gamesOf, gamesOf, gamesOf, systems).map((all) => wantsOf(...all));

/** All that the file says of the four settings. */
function readAll(lens: Lens, dialect: DialectDocument, text: string, asked: readonly Want[]): Want[] {
  return asked.flatMap(({ setting, item }) => {
    const back = lens.readRecords(setting, listIn(dialect, text), item);
    return back.kind === 'value' ? [{ setting, item, value: back.value }] : [];
  });
}

const setOf = ({ value }: Want): readonly string[] => (value.kind === 'texts' ? [...value.texts].sort() : []);

const layouts = (['json', 'xml', 'toml', 'yaml'] as const).flatMap((syntax) =>
  (['text', 'field-out', 'record-out'] as const).map((off, index) => ({
    syntax,
    off,
    path: (['plain', 'rooted', 'behind'] as const)[index] ?? ('plain' as const),
    named: off === 'text',
  })),
);

describe.each(layouts)('records in $syntax, off as $off, paths $path', ({ syntax, off, path, named }) => {
  const dialect = dialectOf(syntax, off, path, named);
  const { value: lens } = makeLens(smallContext(dialect), syntaxes);
  const seed = files[syntax].text;

  it('belong to a dialect without fault', () => {
    expect(checkDialect(dialect, new Map(), syntaxes).map(({ detail }) => detail)).toEqual([]);
  });

  it('read back as the profile after building, whatever stood there', () => {
    fc.assert(
      fc.property(wants, wants, (before, now) => {
        const card = layRecords(lens, dialect, seed, before).text;
        const built = layRecords(lens, dialect, card, now);
        expect(built.told.filter((line) => /refused|cannot/.test(line))).toEqual([]);
        for (const want of now) {
          const { setting, item, value } = want;
          const known = lens.readRecords(setting, listIn(dialect, built.text), item, value);
          const texts = value.kind === 'texts' ? value.texts : [];
          // Nothing on, and no field at all: the file says nothing of it.
          if (texts.length === 0 && known.kind === 'absent') continue;
          expect(known).toEqual({ kind: 'value', value });
          const fresh = lens.readRecords(setting, listIn(dialect, built.text), item);
          if (texts.length === 0 && fresh.kind === 'absent') continue;
          expect(fresh.kind === 'value' ? setOf({ ...want, value: fresh.value }) : fresh.kind).toEqual(setOf(want));
        }
      }),
      { numRuns: runs },
    );
  });

  it('are not changed by building what was read, and building twice is building once', () => {
    fc.assert(
      fc.property(wants, (before) => {
        const card = layRecords(lens, dialect, seed, before).text;
        expect(layRecords(lens, dialect, card, readAll(lens, dialect, card, before)).text).toBe(card);
        expect(layRecords(lens, dialect, card, before).text).toBe(card);
      }),
      { numRuns: runs },
    );
  });

  it('leave alone what nobody listed and nobody could have written', () => {
    fc.assert(
      fc.property(wants, wants, (before, now) => {
        const built = layRecords(lens, dialect, layRecords(lens, dialect, seed, before).text, now).text;
        for (const part of seed.split('\n').filter((line) => /kept|no leaf|aye/.test(line)))
          expect(built).toContain(part);
      }),
      { numRuns: Math.min(runs, 50) },
    );
  });
});
