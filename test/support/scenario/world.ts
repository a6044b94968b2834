import { formats } from './formats.ts';
import type { Format, Line } from './formats.ts';
import { choiceAt, optionAt, pool } from './pool.ts';
import type { Pool, Value } from './pool.ts';
import type { FileName, Placed, Scenario } from './scenario.ts';

export const files: readonly FileName[] = ['main', 'other', 'cores'];
const cores = ['thrush', 'dunnock', 'plover'];

/** Which frontend and dialect there is: the frontend's first and second version, and the first by the dialect's next. */
export type Age = 'one' | 'two' | 'redone';

export interface Spot {
  readonly file: FileName;
  /** Below the root of an instance. */
  readonly path: string;
  readonly name: string;
}

export function sameSpot(a: Spot, b: Spot): boolean {
  return a.path === b.path && a.name === b.name;
}

export function poolOf(placed: Placed): Pool {
  const found = pool[placed.pool];
  if (found === undefined) throw new Error('No such setting.');
  return found;
}

/** What a scenario's dialects and frontends have where, and how they spell it; nothing of what happens to it. */
export class World {
  readonly scenario: Scenario;

  constructor(scenario: Scenario) {
    this.scenario = scenario;
  }

  get instances(): readonly string[] {
    return ['hall', 'annex'].slice(0, this.scenario.instances);
  }

  format(file: FileName): Format {
    const found = formats[this.scenario.formats[file]];
    if (found === undefined) throw new Error('No such format.');
    return found;
  }

  /** The core whose option is set. */
  private core(age: Age): string {
    return age === 'two' && this.scenario.renames.core ? 'song-thrush' : 'thrush';
  }

  path(file: FileName, age: Age): string {
    const { renames, redoneFiles } = this.scenario;
    const name = file === 'cores' ? `cores/${this.core(age)}.txt` : `${file}.txt`;
    if (age === 'two' && renames.files.includes(file)) return `moved/${file}.txt`;
    if (age === 'redone' && redoneFiles.includes(file)) return `redone/${file}.txt`;
    if (file === 'other') return name;
    return `${age === 'two' && renames.folder ? 'set' : 'conf'}/${name}`;
  }

  spot(placed: Placed, age: Age): Spot {
    const file = this.fileOf(placed, age);
    return { file, path: this.path(file, age), name: this.name(placed, age, this.core(age), 'burdock') };
  }

  private fileOf(placed: Placed, age: Age): FileName {
    if (age === 'redone' && placed.redoneMoves) return placed.file.redone;
    // The table of moved keys is by file: by it a key stays in its own.
    if (age === 'two' && placed.movesAtTwo && this.scenario.movesBy === 'versions') return placed.file.two;
    return placed.file.one;
  }

  private name(placed: Placed, age: Age, core: string, system: string): string {
    const moves = age === 'two' ? placed.movesAtTwo : age === 'redone' && placed.redoneMoves;
    const own = `key${placed.pool}${moves ? `-${age}` : ''}`;
    if (placed.pool === choiceAt) return `${system}-${own}`;
    return placed.pool === optionAt && this.fileOf(placed, age) !== 'cores' ? `${core}-${own}` : own;
  }

  /** Whether the values are spelled anew. */
  private anew(placed: Placed, age: Age): 'no' | 'only' | 'both' {
    const { byTable, anew } = poolOf(placed);
    if (age === 'two') return placed.anewAtTwo && (this.scenario.movesBy === 'versions' || byTable) ? 'only' : 'no';
    if (age === 'one') return 'no';
    return placed.redoneAnew === 'both' && anew.both === undefined ? 'only' : placed.redoneAnew;
  }

  text(placed: Placed, value: number, age: Age): string {
    const { values } = poolOf(placed);
    return this.spellings(placed, values[value % values.length], age)[0] ?? '';
  }

  /** All that means one value, the one that is written first. */
  private spellings(placed: Placed, value: Value | undefined, age: Age): readonly string[] {
    if (value === undefined) return [];
    const anew = this.anew(placed, age);
    const { text, other } = value;
    if (anew === 'no') return placed.pool === choiceAt && text === 'thrush' ? [this.core(age)] : [text, other];
    if (anew === 'both') return [value.anew.text, value.anew.other, text, other];
    // The table names the first text only.
    if (age === 'two' && this.scenario.movesBy === 'moved')
      return other === text ? [value.anew.text] : [value.anew.text, other];
    return [value.anew.text, value.anew.other];
  }

  /** The value that a text means at an age; a text that means none is itself. */
  meaning(placed: Placed, text: string | undefined, age: Age): number | string | undefined {
    if (text === undefined) return undefined;
    const { values, number } = poolOf(placed);
    const one = values.findIndex((value) => this.spellings(placed, value, age).includes(text));
    return one >= 0 ? one : number === true ? String(Number(text)) : text;
  }

  stockLines(file: FileName, age: Age): readonly Line[] {
    const own = this.scenario.settings.flatMap((placed): Line[] => {
      const at = this.spot(placed, age);
      const value = this.shipped(placed, age);
      return at.file !== file || value === undefined
        ? []
        : [{ kind: 'key', name: at.name, text: this.text(placed, value, age) }];
    });
    const free: Line[] = [
      { kind: 'note', text: `${file} as it ships` },
      { kind: 'key', name: 'free-a', text: age === 'two' ? 'oak' : 'ash' },
      { kind: 'key', name: 'free-b', text: '7' },
      ...(age === 'two' ? [{ kind: 'key', name: 'free-new', text: '1' } as const] : []),
    ];
    return [...free.slice(0, 2), ...own, ...free.slice(2)];
  }

  stockText(file: FileName, age: Age): string {
    return this.format(file).print(this.stockLines(file, age));
  }

  shipped(placed: Placed, age: Age): number | undefined {
    return age === 'two' ? placed.stock.two : placed.stock.one;
  }

  private dialect(age: Age): string {
    const { settings, movesBy, renames } = this.scenario;
    const now = age === 'redone' ? 'redone' : 'one';
    const key = (placed: Placed, at: Age): string =>
      JSON.stringify(
        this.format(this.fileOf(placed, at)).key(
          this.name(placed, at, '{{core.id}}', '{{system.folder}}').replace(`key${optionAt}`, '{{option.name}}'),
        ),
      );
    const said = (placed: Placed, at: Age, rest: string): string => {
      const { codec, anew } = poolOf(placed);
      const how = this.anew(placed, at);
      // What a table renames is spelled as before in the dialect itself.
      const spelled =
        how === 'no' || (at === 'two' && movesBy === 'moved') ? codec : how === 'both' ? anew.both : anew.codec;
      return `{ ${rest}file: ${this.fileOf(placed, at)}, key: ${key(placed, at)}, ${spelled ?? codec} }`;
    };
    const lines = settings.map((placed) => {
      const { id } = poolOf(placed);
      return movesBy === 'versions' && (placed.movesAtTwo || placed.anewAtTwo)
        ? `  ${id}: [ ${said(placed, now, 'versions: "<2", ')}, ${said(placed, 'two', 'versions: ">=2", ')} ]`
        : `  ${id}: ${said(placed, now, '')}`;
    });
    const byFile = files.flatMap((file) => {
      const format = this.format(file);
      const keys = settings
        .filter((placed) => placed.movesAtTwo && movesBy === 'moved' && placed.file.one === file)
        .map((placed) => {
          const name = (at: Age): string => JSON.stringify(format.key(this.spot(placed, at).name));
          return `${name('one')}: ${name('two')}`;
        });
      return keys.length === 0 ? [] : [`${file}: { ${keys.join(', ')} }`];
    });
    const values = settings.flatMap((placed) => {
      if (movesBy !== 'moved' || this.anew(placed, 'two') === 'no') return [];
      const { id, values: of } = poolOf(placed);
      return [`${id}: { ${of.map((one) => `"${one.text}": "${one.anew.text}"`).join(', ')} }`];
    });
    const paths = renames.files.map((file) => `${this.path(file, 'one')}: ${this.path(file, 'two')}`);
    const moved = [
      ...(byFile.length === 0 ? [] : [`key: { ${byFile.join(', ')} }`]),
      ...(values.length === 0 ? [] : [`value: { ${values.join(', ')} }`]),
      ...(paths.length === 0 ? [] : [`file: { ${paths.join(', ')} }`]),
      ...(renames.folder ? ['folder: { conf: set }'] : []),
      ...(renames.core ? ['core: { thrush: song-thrush }'] : []),
    ];
    return [
      'dialect: wicket',
      'format: 1',
      `version: 1.${age === 'redone' ? 1 : 0}.0`,
      'for-versions: ">=1 <3"',
      'role: [player, menu]',
      'files:',
      ...files.map((file) => {
        const { syntax, style } = this.format(file);
        const path = this.path(file, now).replace('thrush', '{{core.id}}');
        return `  ${file}: { path: "{{root}}/${path}", syntax: ${syntax}, style: ${style} }`;
      }),
      ...(moved.length === 0 ? [] : [`moved: [ { versions: ">=2", ${moved.join(', ')} } ]`]),
      'settings:',
      ...lines,
      '',
    ].join('\n');
  }

  private profile(age: Age, wanted: (placed: Placed) => number | undefined): string {
    const tree: Record<string, Record<string, string>> = {};
    for (const placed of this.scenario.settings) {
      const index = wanted(placed);
      if (index === undefined) continue;
      const { id, values } = poolOf(placed);
      const [group = '', ...names] = id.split('.');
      const value = values[index % values.length]?.yaml ?? '';
      (tree[group] ??= {})[names.join('.')] =
        placed.pool === optionAt
          ? `{ thrush: { key${optionAt}: ${value} } }`
          : placed.pool === choiceAt
            ? `{ burdock: [${value}] }`
            : value;
    }
    const sections = Object.entries(tree).map(([group, names]) => {
      const members = Object.entries(names).map(([name, value]) =>
        name.includes('.') ? `${name.replace('.', ': { ')}: ${value} }` : `${name}: ${value}`,
      );
      return `${group}: { ${members.join(', ')} }`;
    });
    const version = age === 'two' ? '2.0.0' : '1.0.0';
    const has = cores.map((core) => `${core}: 1.0.0`).join(', ');
    return [
      'profile: wren',
      'format: 1',
      'name: Wren',
      'catalog: list@1',
      'device:',
      '  performance: 3',
      '  parts: { settings: { mounted-at: /opt/settings } }',
      '  controls: { codes: { pad: [BTN_SOUTH] }, south: { label: B } }',
      'frontends:',
      ...this.instances.map(
        (name) =>
          `  ${name}: { dialect: wicket@1, version: ${version}, root: "settings:${name}", bits: 64, cores: { ${has} } }`,
      ),
      ...sections,
      '',
    ].join('\n');
  }

  /** By path, the files of the workspace at an age; `wanted`: the value of each setting in the profile. */
  workspace(age: Age, wanted: (placed: Placed) => number | undefined): ReadonlyMap<string, string> {
    // The dialect's next version tells of the same frontend: what it ships is in the keys that it has there.
    const stock = (['one', 'two'] as const).flatMap((shipped) => {
      const at = shipped === 'one' && age === 'redone' ? 'redone' : shipped;
      return files.map(
        (file) =>
          [
            `profiles/dialects/wicket/stock/${shipped === 'one' ? '1' : '2'}.0.0/${this.path(file, at)}`,
            this.stockText(file, at),
          ] as const,
      );
    });
    const catalog = [
      'catalog: list',
      'format: 1',
      'version: 1.0.0',
      'systems: { burdock: { name: Burdock, folder: burdock, files: [.leaf] } }',
      `cores: { ${cores.map((core) => `${core}: { systems: [burdock], needs: 1, bits: [64] }`).join(', ')} }`,
      '',
    ].join('\n');
    return new Map([
      ['package.json', '{}'],
      ['profiles/catalogs/list.yaml', catalog],
      ['profiles/dialects/wicket.yaml', this.dialect(age)],
      ['profiles/wren.yaml', this.profile(age, wanted)],
      ...stock,
    ]);
  }
}
