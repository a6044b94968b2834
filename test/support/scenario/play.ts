import type { CardPath } from '../../../src/model/paths.ts';
import { cardPath } from '../../../src/model/paths.ts';
import { PlanHistory } from '../plan-history.ts';
import type { Planned } from '../plan-history.ts';
import { formats, linesWithout, readKeys } from './formats.ts';
import type { Format, Line } from './formats.ts';
import { pool } from './scenario.ts';
import type { Event, FileName, Placed, Scenario } from './scenario.ts';

const files: readonly FileName[] = ['main', 'other'];
const instanceNames = ['hall', 'annex'] as const;

/** Which frontend and dialect there is: the frontend's first and second version, and the first by the dialect's next. */
type Age = 'one' | 'two' | 'redone';

interface Spot {
  readonly file: FileName;
  readonly name: string;
}

function nameOf(placed: Placed): string {
  return `key${placed.pool}`;
}

function spot(placed: Placed, age: Age, movesBy: Scenario['movesBy']): Spot {
  const name = nameOf(placed);
  if (age === 'one') return { file: placed.file.one, name };
  if (age === 'redone')
    return placed.redoneMoves ? { file: placed.file.redone, name: `${name}-redone` } : { file: placed.file.one, name };
  if (!placed.movesAtTwo) return { file: placed.file.one, name };
  // The table of moved keys is by file: by it a key stays in its own.
  return { file: movesBy === 'moved' ? placed.file.one : placed.file.two, name: `${name}-two` };
}

function textOf(placed: Placed, value: number): string {
  const { values } = pool[placed.pool] ?? { values: [] };
  return values[value % values.length]?.text ?? '';
}

/** The value that a text means, by any of its spellings; a text that means none is itself. */
function meaning(placed: Placed, text: string | undefined): string | undefined {
  const one = pool[placed.pool]?.values.find((value) => value.text === text || value.other === text);
  return one?.text ?? text;
}

interface Recorded {
  readonly spot: Spot;
  readonly before: string | undefined;
  readonly written: string;
}

/** One scenario, played on the tool and on paper side by side. */
export class Play {
  readonly #scenario: Scenario;
  readonly #history: PlanHistory;
  #age: Age = 'one';
  readonly #recorded = new Map<string, Recorded>();
  /** By what became of a key, on paper: how often. */
  readonly fates = new Map<string, number>();

  constructor(scenario: Scenario) {
    this.#scenario = scenario;
    this.#history = new PlanHistory(
      Object.fromEntries([...this.#workspace(false)].map(([path, text]) => [path, Buffer.from(text)])),
    );
  }

  /** What is wrong, in sentences; empty: nothing. */
  run(): readonly string[] {
    this.#layCards();
    const wrong = [...this.#write(false, 'first write')];
    for (const event of this.#scenario.events) this.#happen(event);
    this.#useWorkspace(true);
    wrong.push(...this.#write(true, 'second write'));
    const last = this.#history.happen({ write: {} });
    for (const file of last?.merged.files ?? [])
      if (last?.before.get(file.path) !== last?.after.get(file.path)) wrong.push(`a third write changes ${file.path}`);
    return wrong;
  }

  #instances(): readonly string[] {
    return instanceNames.slice(0, this.#scenario.instances);
  }

  #format(file: FileName): Format {
    const found = formats[this.#scenario.formats[file]];
    if (found === undefined) throw new Error('No such format.');
    return found;
  }

  #path(instance: string, file: FileName): CardPath {
    const path = cardPath(`settings:${instance}/${file}.txt`);
    if (path === undefined) throw new Error('No path of a card.');
    return path;
  }

  #wanted(placed: Placed, later: boolean): number | undefined {
    if (!later || placed.then === 'keep') return placed.wanted;
    return placed.then === 'drop' ? undefined : placed.then;
  }

  #stockLines(file: FileName, age: Age): readonly Line[] {
    const { settings, movesBy } = this.#scenario;
    const own = settings.flatMap((placed): Line[] => {
      const at = spot(placed, age, movesBy);
      const value = age === 'two' ? placed.stock.two : placed.stock.one;
      return at.file !== file || value === undefined
        ? []
        : [{ kind: 'key', name: at.name, text: textOf(placed, value) }];
    });
    const free: Line[] = [
      { kind: 'note', text: `${file} as it ships` },
      { kind: 'key', name: 'free-a', text: age === 'two' ? 'oak' : 'ash' },
      { kind: 'key', name: 'free-b', text: '7' },
      ...(age === 'two' ? [{ kind: 'key', name: 'free-new', text: '1' } as const] : []),
    ];
    return [...free.slice(0, 2), ...own, ...free.slice(2)];
  }

  #workspace(later: boolean): ReadonlyMap<string, string> {
    const { settings, movesBy } = this.#scenario;
    const redone = this.#age === 'redone';
    const lines = settings.map((placed) => {
      const entry = pool[placed.pool];
      if (entry === undefined) throw new Error('No such setting.');
      const one = spot(placed, redone ? 'redone' : 'one', movesBy);
      const two = spot(placed, 'two', movesBy);
      const said = (at: Spot, rest: string): string =>
        `{ ${rest}file: ${at.file}, key: ${JSON.stringify(this.#format(at.file).key(at.name))}, ${entry.codec} }`;
      const moves = placed.movesAtTwo && movesBy === 'versions';
      return `  ${entry.id}: ${moves ? `[ ${said(one, 'versions: "<2", ')}, ${said(two, 'versions: ">=2", ')} ]` : said(one, '')}`;
    });
    const moved = files.flatMap((file) => {
      const keys = settings.flatMap((placed) => {
        const from = spot(placed, 'one', movesBy);
        if (!placed.movesAtTwo || movesBy !== 'moved' || from.file !== file) return [];
        const format = this.#format(file);
        const to = spot(placed, 'two', movesBy);
        return [`${JSON.stringify(format.key(from.name))}: ${JSON.stringify(format.key(to.name))}`];
      });
      return keys.length === 0 ? [] : [`${file}: { ${keys.join(', ')} }`];
    });
    const dialect = [
      'dialect: wicket',
      'format: 1',
      `version: 1.${redone ? 1 : 0}.0`,
      'for-versions: ">=1 <3"',
      'role: [player, menu]',
      'files:',
      ...files.map((file) => {
        const { syntax, style } = this.#format(file);
        return `  ${file}: { path: "{{root}}/${file}.txt", syntax: ${syntax}, style: ${style} }`;
      }),
      ...(moved.length === 0 ? [] : [`moved: [ { versions: ">=2", key: { ${moved.join(', ')} } } ]`]),
      'settings:',
      ...lines,
      '',
    ].join('\n');
    const version = this.#age === 'two' ? '2.0.0' : '1.0.0';
    const tree: Record<string, Record<string, string>> = {};
    for (const placed of settings) {
      const wanted = this.#wanted(placed, later);
      const entry = pool[placed.pool];
      if (wanted === undefined || entry === undefined) continue;
      const [group = '', ...names] = entry.id.split('.');
      const value = entry.values[wanted % entry.values.length]?.yaml ?? '';
      (tree[group] ??= {})[names.join('.')] = value;
    }
    const sections = Object.entries(tree).map(([group, names]) => {
      const members = Object.entries(names).map(([name, value]) =>
        name.includes('.') ? `${name.replace('.', ': { ')}: ${value} }` : `${name}: ${value}`,
      );
      return `${group}: { ${members.join(', ')} }`;
    });
    const profile = [
      'profile: wren',
      'format: 1',
      'name: Wren',
      'device:',
      '  parts: { settings: { mounted-at: /opt/settings } }',
      '  controls: { codes: { pad: [BTN_SOUTH] }, south: { label: B } }',
      'frontends:',
      ...this.#instances().map(
        (name) => `  ${name}: { dialect: wicket@1, version: ${version}, root: "settings:${name}" }`,
      ),
      ...sections,
      '',
    ].join('\n');
    const stock = (['one', 'two'] as const).flatMap((age) =>
      files.map((file) => {
        // The dialect's next version tells of the same frontend: what it ships is in the keys that it has there.
        const shipped = this.#format(file).print(this.#stockLines(file, age === 'one' && redone ? 'redone' : age));
        return [`profiles/dialects/wicket/stock/${age === 'one' ? '1' : '2'}.0.0/${file}.txt`, shipped] as const;
      }),
    );
    return new Map<string, string>([
      ['package.json', '{}'],
      ['profiles/dialects/wicket.yaml', dialect],
      ['profiles/wren.yaml', profile],
      ...stock,
    ]);
  }

  #useWorkspace(later: boolean): void {
    const workspace = [...this.#workspace(later)].map(([file, text]) => ({ file, text }));
    this.#history.happen({ workspace });
  }

  #layCards(): void {
    const { settings } = this.#scenario;
    for (const instance of this.#instances())
      for (const file of files) {
        const found = new Map(
          settings.flatMap((placed) =>
            placed.found === undefined ? [] : [[nameOf(placed), textOf(placed, placed.found)] as const],
          ),
        );
        const lines = this.#stockLines(file, 'one').map((line) =>
          line.kind === 'key' ? { ...line, text: found.get(line.name) ?? line.text } : line,
        );
        this.#history.card.set(this.#path(instance, file), this.#format(file).print(lines));
      }
  }

  #keys(instance: string, file: FileName): ReadonlyMap<string, string> {
    return readKeys(this.#format(file), this.#history.card.get(this.#path(instance, file)) ?? '');
  }

  /** Changes lines of a card's file as some program or person would; what it does not name stays. */
  #edit(instance: string, file: FileName, change: (lines: readonly Line[]) => readonly Line[]): void {
    const path = this.#path(instance, file);
    const text = this.#history.card.get(path);
    if (text === undefined) return;
    const format = this.#format(file);
    const lines = text.split('\n').flatMap((line): Line[] => {
      const [, name, held] = format.line.exec(line) ?? [];
      if (name !== undefined && held !== undefined) return [{ kind: 'key', name, text: held }];
      const note = /^\s*(?:#|<!--) (.*?)(?: -->)?$/.exec(line)?.[1];
      return note === undefined ? [] : [{ kind: 'note', text: note }];
    });
    this.#history.card.set(path, format.print(change(lines)));
  }

  #happen(event: Event): void {
    const { settings, movesBy } = this.#scenario;
    const all = this.#instances();
    const instance = 'instance' in event ? (all[event.instance % all.length] ?? '') : '';
    const chosen = 'at' in event ? settings[event.at % settings.length] : undefined;
    const rewrite = (name: Spot, text: (held: string) => string | undefined): void => {
      this.#edit(instance, name.file, (lines) =>
        lines.flatMap((line) => {
          if (line.kind !== 'key' || line.name !== name.name) return [line];
          const now = text(line.text);
          return now === undefined ? [] : [{ ...line, text: now }];
        }),
      );
    };
    switch (event.kind) {
      case 'update':
        if (this.#age !== 'one') return;
        for (const one of all) this.#update(one, event.resets);
        this.#age = 'two';
        return;
      case 'dialect':
        if (this.#age === 'one') this.#age = 'redone';
        return;
      case 'reset-file': {
        const path = this.#path(instance, event.file);
        this.#history.card.set(path, this.#format(event.file).print(this.#stockLines(event.file, this.#age)));
        return;
      }
      case 'remove-file':
        this.#history.card.delete(this.#path(instance, event.file));
        return;
      case 'unowned':
        this.#edit(instance, event.file, (lines) => {
          const mine: Line = { kind: 'key', name: `mine-${event.at}`, text: '5' };
          const there = lines.some((line) => line.kind === 'key' && line.name === mine.name);
          if (event.at % 3 === 0) return there ? lines : [...lines, { kind: 'note', text: 'by hand' }, mine];
          return lines.map((line) => (line.kind === 'key' && line.name === 'free-a' ? { ...line, text: 'elm' } : line));
        });
        return;
      case 'hand':
        if (chosen !== undefined) rewrite(spot(chosen, this.#age, movesBy), () => textOf(chosen, event.value));
        return;
      case 'take-out':
        if (chosen !== undefined) rewrite(spot(chosen, this.#age, movesBy), () => undefined);
        return;
      case 'respell':
        if (chosen !== undefined)
          rewrite(
            spot(chosen, this.#age, movesBy),
            (held) => pool[chosen.pool]?.values.find(({ text }) => text === held)?.other ?? held,
          );
        return;
    }
  }

  /** Files that are not reset are carried on: a key under its new name and in its new file, a new key as it ships. */
  #update(instance: string, resets: readonly FileName[]): void {
    const { settings, movesBy } = this.#scenario;
    const old = new Map(files.map((file) => [file, this.#keys(instance, file)]));
    for (const file of files) {
      const path = this.#path(instance, file);
      const shipped = this.#stockLines(file, 'two');
      if (resets.includes(file) || this.#history.card.get(path) === undefined) {
        this.#history.card.set(path, this.#format(file).print(shipped));
        continue;
      }
      const carried = new Map(
        settings.flatMap((placed) => {
          const [from, to] = [spot(placed, 'one', movesBy), spot(placed, 'two', movesBy)];
          const held = old.get(from.file)?.get(from.name);
          return to.file !== file || held === undefined ? [] : [[to.name, held] as const];
        }),
      );
      const gone = new Set(settings.map((placed) => spot(placed, 'one', movesBy).name));
      this.#edit(instance, file, (lines) => {
        const stay = lines.filter((line) => line.kind === 'note' || (!gone.has(line.name) && !carried.has(line.name)));
        const names = new Set(stay.flatMap((line) => (line.kind === 'key' ? [line.name] : [])));
        const ships = shipped.filter((line) => line.kind === 'key' && !names.has(line.name) && !carried.has(line.name));
        const over = [...carried].map(([name, text]): Line => ({ kind: 'key', name, text }));
        return [...stay, ...over, ...ships];
      });
    }
  }

  #write(later: boolean, when: string): readonly string[] {
    const { settings, movesBy } = this.#scenario;
    const expected = new Map<string, Expected>();
    for (const instance of this.#instances())
      for (const placed of settings) {
        const old = this.#recorded.get(`${instance} ${placed.pool}`);
        const now = spot(placed, this.#age, movesBy);
        const wanted = this.#wanted(placed, later);
        if (old !== undefined && (wanted === undefined || !sameSpot(old.spot, now)))
          expected.set(id(instance, old.spot), this.#letGo(instance, placed, old));
        if (wanted !== undefined)
          expected.set(id(instance, now), this.#fate(instance, placed, old, now, textOf(placed, wanted)));
      }
    const before = new Map(this.#history.card);
    const planned = this.#history.happen({ write: {} });
    const wrong = this.#compare(expected, before, planned, when);
    this.#record(later, before);
    return wrong;
  }

  #letGo(instance: string, placed: Placed, old: Recorded): Expected {
    const held = this.#keys(instance, old.spot.file).get(old.spot.name);
    const ours = held !== undefined && meaning(placed, held) === meaning(placed, old.written);
    this.#count(ours ? 'let go' : 'let go, and not ours any more');
    // What means the same as what stood before us keeps its spelling.
    const stays = !ours || (old.before !== undefined && meaning(placed, held) === meaning(placed, old.before));
    return { spot: old.spot, text: stays ? held : old.before, kept: stays };
  }

  /** The definition of the issue, in its order. */
  #fate(instance: string, placed: Placed, old: Recorded | undefined, at: Spot, wanted: string): Expected {
    const held = this.#keys(instance, at.file).get(at.name);
    const means = meaning(placed, held);
    const take = (why: string): Expected => {
      this.#count(why);
      return { spot: at, text: wanted, kept: false };
    };
    const keep = (why: string): Expected => {
      this.#count(why);
      return { spot: at, text: held, kept: true };
    };
    if (held !== undefined && means === wanted) return keep(held === wanted ? 'same' : 'same, spelled otherwise');
    if (old === undefined) return take('first time');
    const shipped = this.#shipped(placed);
    const asShipped = means === (shipped === undefined ? undefined : textOf(placed, shipped));
    if (!sameSpot(old.spot, at)) {
      if (held === undefined) return take('moved, and not there');
      if (means === meaning(placed, old.written)) return take('moved, and carried over');
      return asShipped ? take('moved, as it ships') : keep('moved, and changed by hand');
    }
    if (held !== undefined && means === meaning(placed, old.written)) return take('profile changed');
    if (!before(this.#history, this.#path(instance, at.file))) return take('file gone');
    if (asShipped && this.#evidence(instance, at.file)) return take('reset');
    if (wanted !== old.written) return keep('both changed');
    return keep(held === undefined ? 'key gone' : 'changed by hand');
  }

  #shipped(placed: Placed): number | undefined {
    return this.#age === 'two' ? placed.stock.two : placed.stock.one;
  }

  /** The version is another one, or all of our keys in the file that are not as shipped, two at least, are so again. */
  #evidence(instance: string, file: FileName): boolean {
    if (this.#age === 'two') return true;
    if (this.#age === 'redone' && this.#scenario.settings.some((placed) => this.#stockMoves(placed, file))) return true;
    const held = this.#keys(instance, file);
    const differing = this.#scenario.settings.flatMap((placed) => {
      const old = this.#recorded.get(`${instance} ${placed.pool}`);
      const shipped = this.#shipped(placed);
      const text = shipped === undefined ? undefined : textOf(placed, shipped);
      if (old?.spot.file !== file || meaning(placed, old.written) === text) return [];
      return [meaning(placed, held.get(old.spot.name)) === text];
    });
    return differing.length >= 2 && differing.every((back) => back);
  }

  /** Whether the stock text of a file is another one by the dialect's next version. */
  #stockMoves(placed: Placed, file: FileName): boolean {
    const { movesBy } = this.#scenario;
    const [one, redone] = [spot(placed, 'one', movesBy), spot(placed, 'redone', movesBy)];
    return placed.stock.one !== undefined && !sameSpot(one, redone) && (one.file === file || redone.file === file);
  }

  #compare(
    expected: ReadonlyMap<string, Expected>,
    was: ReadonlyMap<CardPath, string>,
    planned: Planned | undefined,
    when: string,
  ): readonly string[] {
    const wrong = (planned?.findings ?? [])
      .filter(({ grade }) => grade === 'error')
      .map(({ code, detail }) => `${when}: ${code}: ${detail}`);
    for (const instance of this.#instances())
      for (const file of files) {
        const path = this.#path(instance, file);
        const [old, now] = [was.get(path), this.#history.card.get(path)];
        const here = [...expected].filter(([key]) => key.startsWith(`${instance} ${file} `)).map(([, one]) => one);
        const names = new Set(here.map((one) => one.spot.name));
        const format = this.#format(file);
        const held = readKeys(format, now ?? '');
        for (const { spot: at, text } of here)
          if (held.get(at.name) !== text)
            wrong.push(`${when}: ${path} ${at.name} is ${String(held.get(at.name))}, not ${String(text)}`);
        if (old === undefined) continue;
        const [left, stays] = [linesWithout(format, old, names), linesWithout(format, now ?? '', names)];
        if (JSON.stringify(left) !== JSON.stringify(stays)) wrong.push(`${when}: ${path}: lines of nobody's changed`);
        if (here.every((one) => one.kept) && old !== now) wrong.push(`${when}: ${path} is written for nothing`);
      }
    return wrong;
  }

  #record(later: boolean, was: ReadonlyMap<CardPath, string>): void {
    const { settings, movesBy } = this.#scenario;
    for (const instance of this.#instances())
      for (const placed of settings) {
        const wanted = this.#wanted(placed, later);
        const key = `${instance} ${placed.pool}`;
        if (wanted === undefined) {
          this.#recorded.delete(key);
          continue;
        }
        const at = spot(placed, this.#age, movesBy);
        const stood = readKeys(this.#format(at.file), was.get(this.#path(instance, at.file)) ?? '').get(at.name);
        this.#recorded.set(key, { spot: at, before: stood, written: textOf(placed, wanted) });
      }
  }

  #count(fate: string): void {
    this.fates.set(fate, (this.fates.get(fate) ?? 0) + 1);
  }
}

interface Expected {
  readonly spot: Spot;
  readonly text: string | undefined;
  /** Nothing is to be written for it. */
  readonly kept: boolean;
}

function before(history: PlanHistory, path: CardPath): boolean {
  return history.card.has(path);
}

function sameSpot(a: Spot, b: Spot): boolean {
  return a.file === b.file && a.name === b.name;
}

function id(instance: string, { file, name }: Spot): string {
  return `${instance} ${file} ${name}`;
}
