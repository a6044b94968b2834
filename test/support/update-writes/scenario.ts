import { readFileSync } from 'node:fs';
import { run } from '../../../src/verbs/write.ts';
import { MemoryShell } from './memory-shell.ts';
import { foretell } from './oracle.ts';
import type { Expected, Owned, Wish } from './oracle.ts';
import { printers, printFile, readLines } from './printer.ts';
import type { Entry, Printer, SyntaxOfScenario } from './printer.ts';

interface SettingOfScenario {
  readonly id: string;
  readonly codec: string;
  /** As the profile writes it, as the program does, and in the program's other spelling. */
  readonly values: readonly (readonly [string, string, string])[];
  readonly volatile?: true;
}

const twoWays = { codec: 'values: { true: ["on", "1"], false: ["off", "0"] }' } as const;
const truths = [
  ['true', 'on', '1'],
  ['false', 'off', '0'],
] as const;

const settings: readonly SettingOfScenario[] = [
  { id: 'saves.state-on-exit', ...twoWays, values: truths },
  {
    id: 'saves.write-save-every',
    codec: 'number: { unit: ms }',
    values: [
      ['10 s', '10000', '10000.000'],
      ['20 s', '20000', '20000.0'],
      ['30 s', '30000', '30000.00'],
    ],
  },
  {
    id: 'menus.language',
    codec: 'text: "{{value}}"',
    values: [
      ['ga', 'ga', 'ga'],
      ['cy', 'cy', 'cy'],
    ],
  },
  { id: 'achievements.enabled', ...twoWays, values: truths },
  { id: 'speed.mute-when-fast', ...twoWays, values: truths },
  {
    id: 'sound.volume-at-start',
    codec: 'number: { unit: "%" }',
    volatile: true,
    values: [
      ['40 %', '40', '40.0'],
      ['60 %', '60', '60.0'],
    ],
  },
];

/** Numbers from a seed (mulberry32), so that a scenario is its seed. */
function choices(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) % below;
  };
}

function at<T>(list: readonly T[], index: number): T {
  const found = list[index];
  if (found === undefined) throw new Error(`Nothing at ${index}.`);
  return found;
}

const catalog = readFileSync('test/cases/plan/_world/profiles/catalogs/list.yaml');

/** A world and its writes; every difference from the oracle is thrown with its seed. */
export class Scenario {
  readonly counts = new Map<string, number>();
  private readonly pick: (below: number) => number;
  private readonly shell = new MemoryShell();
  private readonly syntax: SyntaxOfScenario;
  private readonly instances: readonly string[];
  private readonly fileOf: readonly (readonly [number, number])[];
  private readonly renamed: readonly boolean[];
  private readonly profile = new Map<number, number>();
  private readonly shipped = new Map<string, readonly Entry[]>();
  private owned: readonly Owned[] = [];
  private version = 1;
  private versionThen: number | undefined;

  constructor(seed: number) {
    this.pick = choices(seed);
    const names = Object.keys(printers) as SyntaxOfScenario[];
    this.syntax = at(names, seed % names.length);
    this.instances = this.pick(2) === 0 ? ['a'] : ['a', 'b'];
    this.fileOf = settings.map(() => {
      const file = this.pick(2);
      return [file, this.pick(4) === 0 ? 1 - file : file];
    });
    this.renamed = settings.map(() => this.pick(3) === 0);
    for (let index = 0; index < settings.length; index += 1)
      if (this.pick(4) > 0) this.profile.set(index, this.pick(at(settings, index).values.length));
    if (this.profile.size === 0) this.profile.set(0, 0);
    for (const version of [1, 2]) for (const file of [0, 1]) this.ship(version, file);
    this.layWorkspace();
    for (const instance of this.instances) this.layStock(instance);
    this.count(`syntax ${this.syntax}`);
  }

  private count(what: string): void {
    this.counts.set(what, (this.counts.get(what) ?? 0) + 1);
  }

  private name(setting: number, version: number): string {
    return `${version === 2 && this.renamed[setting] === true ? 'm' : 'k'}${setting}`;
  }

  private file(setting: number, version: number): number {
    return at(at(this.fileOf, setting), version - 1);
  }

  private ship(version: number, file: number): void {
    const entries: Entry[] = [{ name: 'aa', text: 'ash', other: false }];
    settings.forEach(({ values }, setting) => {
      if (this.file(setting, version) !== file || this.pick(5) === 0) return;
      const text = at(at(values, this.pick(values.length)), 1);
      entries.push({ name: this.name(setting, version), text, other: false });
      if (this.pick(2) === 0) entries.push({ name: `u${setting}`, text: `oak${version}`, other: false });
    });
    entries.push({ name: 'zz', text: 'elm', other: false });
    this.shipped.set(`${version}/${file}`, entries);
  }

  private layWorkspace(): void {
    const { syntax, shell } = this;
    const printer: Printer = printers[syntax];
    const file = (n: number): string =>
      `  f${n}: { path: "{{root}}/f${n}.txt", syntax: ${syntax}${printer.style === undefined ? '' : `, style: ${printer.style}`} }`;
    const spelled = settings.map(({ id, codec }, setting) => {
      const one = (version: number): string =>
        `file: f${this.file(setting, version)}, key: ${JSON.stringify(printer.key(this.name(setting, version)))}, ${codec}`;
      return one(1) === one(2)
        ? `  ${id}: { ${one(1)} }`
        : `  ${id}: [ { versions: "<2", ${one(1)} }, { versions: ">=2", ${one(2)} } ]`;
    });
    shell.disk.plant('/w/package.json', '{}');
    shell.disk.plant('/w/profiles/catalogs/list.yaml', catalog);
    shell.disk.plant(
      '/w/profiles/dialects/reed.yaml',
      `dialect: reed\nformat: 1\nversion: 1.0.0\nfor-versions: ">=1 <3"\nrole: [player, system, menu]\ndetect: { file: "{{root}}/about.txt", pattern: 'Reed ([0-9.]+)' }\nfiles:\n${file(0)}\n${file(1)}\nsettings:\n${spelled.join('\n')}\n`,
    );
    for (const [key, entries] of this.shipped) {
      const [version, n] = key.split('/');
      shell.disk.plant(`/w/profiles/dialects/reed/stock/${version}.0.0/f${n}.txt`, printFile(syntax, entries));
    }
    this.layProfile();
  }

  private layProfile(): void {
    const frontends = this.instances.map(
      (name) => `  ${name}: { dialect: reed@1, version: ${this.version}.0.0, root: "settings:${name}" }`,
    );
    const groups = new Map<string, string[]>();
    for (const [index, value] of this.profile) {
      const { id, values } = at(settings, index);
      const [group = '', name = ''] = id.split('.');
      groups.set(group, [...(groups.get(group) ?? []), `${name}: ${at(at(values, value), 0)}`]);
    }
    const said = [...groups].map(([group, members]) => `${group}: { ${members.join(', ')} }`);
    this.shell.disk.plant(
      '/w/profiles/wren.yaml',
      `profile: wren\nformat: 1\nname: Wren\ncatalog: list@1\ndevice:\n  wifi: built-in\n  parts:\n    settings: { mounted-at: /opt/settings }\n  controls:\n    codes: { pad: [BTN_SOUTH, BTN_EAST, BTN_SELECT, BTN_START] }\n    south: { label: B }\n    east: { label: A }\nfrontends:\n${frontends.join('\n')}\n${said.join('\n')}\n`,
    );
  }

  private layStock(instance: string): void {
    this.shell.disk.plant(`/card/settings/${instance}/about.txt`, `Reed ${this.version}.0.0\n`);
    for (const file of [0, 1]) this.put(instance, file, this.shipped.get(`${this.version}/${file}`) ?? []);
  }

  private put(instance: string, file: number, entries: readonly Entry[]): void {
    this.shell.disk.plant(`/card/settings/${instance}/f${file}.txt`, printFile(this.syntax, entries));
  }

  private text(path: string): string | undefined {
    const read = this.shell.files.read(this.shell.path(`/card/${path.replace(':', '/')}`));
    return read.kind === 'bytes' ? Buffer.from(read.bytes).toString('utf8') : undefined;
  }

  private entries(path: string): Entry[] {
    return readLines(this.syntax, this.text(path) ?? '').flatMap(({ name, text }) =>
      name === undefined ? [] : [{ name, text, other: false }],
    );
  }

  /** Something that happens between two writes. */
  happen(): void {
    const kind = at(
      ['update', 'reset', 'hand', 'unowned', 'respell', 'profile', 'let-go', 'gone', 'key-out'],
      this.pick(9),
    );
    this.count(`event ${kind}`);
    if (kind === 'profile' || kind === 'let-go') {
      const index = this.pick(settings.length);
      if (kind === 'profile') this.profile.set(index, this.pick(at(settings, index).values.length));
      else if (this.profile.size > 1) this.profile.delete(index);
      this.layProfile();
      return;
    }
    if (kind === 'update') {
      if (this.version === 2) return;
      this.version = 2;
      for (const instance of this.instances) {
        this.shell.disk.plant(`/card/settings/${instance}/about.txt`, 'Reed 2.0.0\n');
        // Some updates leave the files, the others replace them.
        for (const file of [0, 1]) if (this.pick(3) > 0) this.put(instance, file, this.shipped.get(`2/${file}`) ?? []);
      }
      return;
    }
    const instance = at(this.instances, this.pick(this.instances.length));
    const file = this.pick(2);
    const path = `settings:${instance}/f${file}.txt`;
    if (kind === 'gone') this.shell.disk.unplant(`/card/settings/${instance}/f${file}.txt`);
    else if (kind === 'reset') this.put(instance, file, this.shipped.get(`${this.version}/${file}`) ?? []);
    else {
      const entries = this.entries(path);
      const ours = entries.filter(({ name }) => /^[km]\d$/.test(name));
      const theirs = entries.filter(({ name }) => !/^[km]\d$/.test(name));
      const one = kind === 'unowned' ? theirs[this.pick(theirs.length || 1)] : ours[this.pick(ours.length || 1)];
      if (one === undefined) return;
      const values = at(settings, Number(one.name.slice(1)) || 0).values;
      const now = values.find((value) => value.includes(one.text));
      const changed = (): Entry => {
        if (kind === 'unowned') return { ...one, text: `hand${this.pick(9)}` };
        if (kind === 'respell') return { ...one, other: true, text: now?.[2] ?? one.text };
        return { ...one, text: at(at(values, this.pick(values.length)), 1) };
      };
      const put = kind === 'key-out' ? [] : [changed()];
      this.put(
        instance,
        file,
        entries.flatMap((entry) => (entry === one ? put : [entry])),
      );
    }
  }

  private meaning(name: string, text: string): string {
    const setting = /^[km](\d)$/.exec(name)?.[1];
    const values = setting === undefined ? [] : at(settings, Number(setting)).values;
    return values.find((value) => value[1] === text || value[2] === text)?.[1] ?? text;
  }

  private values(entries: readonly Entry[]): ReadonlyMap<string, string> {
    return new Map(entries.map(({ name, text }) => [name, this.meaning(name, text)]));
  }

  private async runWrite(options: Record<string, boolean>): Promise<string> {
    this.shell.printed = '';
    this.shell.said = '';
    const status = await run(this.shell, ['wren'], {
      card: ['settings=/card/settings'],
      json: true,
      yes: true,
      acceptVersion: true,
      savesMayMove: true,
      ...options,
    });
    if (status !== 0) throw new Error(`write ended with ${status}: ${this.shell.said}${this.shell.printed}`);
    return this.shell.printed;
  }

  /** Writes, and compares with what the oracle foretold. The differences in words; none is right. */
  async write(): Promise<readonly string[]> {
    const wishes = this.instances.flatMap((instance) =>
      [...this.profile].map(([index, value]): Wish => {
        const setting = at(settings, index);
        return {
          instance,
          setting: setting.id,
          place: {
            path: `settings:${instance}/f${this.file(index, this.version)}.txt`,
            key: this.name(index, this.version),
          },
          value: at(at(setting.values, value), 1),
          volatile: setting.volatile === true,
        };
      }),
    );
    const stock = (path: string, version: number): readonly Entry[] =>
      this.shipped.get(`${version}/${/f(\d)/.exec(path)?.[1] ?? ''}`) ?? [];
    const paths = this.instances.flatMap((instance) => [0, 1].map((file) => `settings:${instance}/f${file}.txt`));
    const before = new Map(paths.map((path) => [path, this.text(path)]));
    const foretold = foretell(wishes, this.owned, {
      card: (path) => (before.get(path) === undefined ? undefined : this.values(this.entries(path))),
      stock: (path) => this.values(stock(path, this.version)),
      otherVersion: () => this.versionThen !== undefined && this.versionThen !== this.version,
      otherStock: (path) =>
        this.versionThen !== undefined &&
        printFile(this.syntax, stock(path, this.versionThen)) !== printFile(this.syntax, stock(path, this.version)),
    });
    // Whatever is not foretold to change may not change, which holds without a look at the plan.
    const wrong: string[] = [];
    const shown = JSON.parse(await this.runWrite({ dryRun: true })) as {
      readonly files: readonly {
        readonly path: string;
        readonly keys: readonly { readonly key: string; readonly class: string; readonly setting: string }[];
      }[];
    };
    const classes = new Map(
      shown.files.flatMap(({ path, keys }) => keys.map((key) => [`${path} ${key.key}`, key.class] as const)),
    );
    await this.runWrite({});
    const printer: Printer = printers[this.syntax];
    for (const one of foretold.expected) {
      this.count(`class ${one.class}`);
      const is = classes.get(`${one.path} ${printer.key(one.key)}`);
      const value = this.values(this.entries(one.path)).get(one.key);
      if (is !== one.class || value !== one.after)
        wrong.push(`${one.path} ${one.key}: foretold ${one.class} and ${one.after}, is ${is} and ${value}`);
    }
    for (const path of paths) wrong.push(...this.strangers(path, before.get(path), foretold.expected));
    const still = (): string =>
      JSON.stringify([
        ...this.shell.disk.picture('/card'),
        ...this.shell.disk.times('/card'),
        ...this.shell.disk.picture('/w/.thumbwright/cards'),
      ]);
    const once = still();
    await this.runWrite({});
    if (still() !== once) wrong.push('a second write did something');
    this.owned = foretold.owned;
    this.versionThen = this.version;
    return wrong.map((what) => `${this.syntax}: ${what}`);
  }

  /** Lines that are not of keys foretold must be the same, each byte. */
  private strangers(path: string, before: string | undefined, expected: readonly Expected[]): readonly string[] {
    if (before === undefined) return [];
    const ours = new Set(expected.filter((one) => one.path === path).map(({ key }) => key));
    const others = (text: string): string =>
      readLines(this.syntax, text)
        .filter(({ name }) => name === undefined || !ours.has(name))
        .map(({ line }) => line)
        .join('\n');
    const after = this.text(path);
    if (after !== undefined && others(after) === others(before)) return [];
    return [`${path}: a byte that is not ours changed:\n${before}\n${String(after)}`];
  }
}
