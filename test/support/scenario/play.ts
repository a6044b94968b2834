import type { KeyClass } from '../../../src/model/plan.ts';
import type { CardPath } from '../../../src/model/paths.ts';
import { cardPath } from '../../../src/model/paths.ts';
import { PlanHistory } from '../plan-history.ts';
import type { Planned } from '../plan-history.ts';
import { linesWithout, readKeys } from './formats.ts';
import type { Line } from './formats.ts';
import type { Event, FileName, Placed, Scenario } from './scenario.ts';
import { files, poolOf, sameSpot, World } from './world.ts';
import type { Age, Spot } from './world.ts';

/** What is known of a key of ours between two writes. */
interface Owned {
  readonly spot: Spot;
  readonly age: Age;
  /** The text that stood there before us, and the age that it was of. */
  readonly before: { readonly text: string | undefined; readonly age: Age };
  /** What we last wrote; what we never wrote, since it was changed by hand, is as it was found. */
  readonly written: string | undefined;
  /** What was left to the card at the last write. */
  readonly kept: { readonly text: string | undefined } | undefined;
}

interface Expected {
  readonly instance: string;
  readonly spot: Spot;
  readonly class: KeyClass;
  readonly text: string | undefined;
  /** Nothing is to be written for it. */
  readonly kept: boolean;
}

/** One scenario, played on the tool and on paper side by side. */
export class Play {
  readonly #scenario: Scenario;
  readonly #world: World;
  readonly #history: PlanHistory;
  #age: Age = 'one';
  #owned = new Map<string, Owned>();
  /** Files that were not there before a write of ours. */
  readonly #made = new Set<CardPath>();
  /** By what became of a key, on paper: how often. */
  readonly fates = new Map<string, number>();

  constructor(scenario: Scenario) {
    this.#scenario = scenario;
    this.#world = new World(scenario);
    const first = this.#world.workspace('one', (placed) => placed.wanted);
    this.#history = new PlanHistory(Object.fromEntries([...first].map(([path, text]) => [path, Buffer.from(text)])));
    this.#workspace = new Set(first.keys());
  }

  #workspace: ReadonlySet<string>;

  /** What is wrong, in sentences; empty: nothing. */
  run(): readonly string[] {
    this.#layCards();
    const first = (placed: Placed): number | undefined => placed.wanted;
    const later = (placed: Placed): number | undefined =>
      placed.then === 'keep' ? placed.wanted : placed.then === 'drop' ? undefined : placed.then;
    const wrong = [...this.#write(first, 'first write')];
    for (const event of this.#scenario.events) this.#happen(event);
    wrong.push(...this.#write(later, 'second write'));
    const again = this.#history.happen({ write: {} });
    for (const file of again?.merged.files ?? [])
      if (again?.before.get(file.path) !== again?.after.get(file.path))
        wrong.push(`a third write changes ${file.path}`);
    if (wrong.length === 0) wrong.push(...this.#write(() => undefined, 'all let go'));
    return wrong;
  }

  #path(instance: string, path: string): CardPath {
    const found = cardPath(`settings:${instance}/${path}`);
    if (found === undefined) throw new Error('No path of a card.');
    return found;
  }

  #text(instance: string, path: string): string | undefined {
    return this.#history.card.get(this.#path(instance, path));
  }

  #held(instance: string, { file, path, name }: Spot): string | undefined {
    return readKeys(this.#world.format(file), this.#text(instance, path) ?? '').get(name);
  }

  #useWorkspace(wanted: (placed: Placed) => number | undefined): void {
    const now = this.#world.workspace(this.#age, wanted);
    const gone = [...this.#workspace].filter((file) => !now.has(file));
    this.#workspace = new Set(now.keys());
    this.#history.happen({
      workspace: [
        ...gone.map((file) => ({ file, remove: true as const })),
        ...[...now].map(([file, text]) => ({ file, text })),
      ],
    });
  }

  #layCards(): void {
    for (const instance of this.#world.instances)
      for (const file of files) {
        const found = new Map(
          this.#scenario.settings.flatMap((placed) => {
            const { file: at, name } = this.#world.spot(placed, 'one');
            return placed.found === undefined || at !== file
              ? []
              : [[name, this.#world.text(placed, placed.found, 'one')] as const];
          }),
        );
        const lines = this.#world
          .stockLines(file, 'one')
          .map((line) => (line.kind === 'key' ? { ...line, text: found.get(line.name) ?? line.text } : line));
        this.#lay(instance, file, 'one', lines);
      }
  }

  #lay(instance: string, file: FileName, age: Age, lines: readonly Line[]): void {
    this.#history.card.set(this.#path(instance, this.#world.path(file, age)), this.#world.format(file).print(lines));
  }

  /** A card's file as lines, as some program or person would read it. */
  #lines(instance: string, file: FileName): readonly Line[] | undefined {
    const text = this.#text(instance, this.#world.path(file, this.#age));
    return text?.split('\n').flatMap((line): Line[] => {
      const [, name, held] = this.#world.format(file).line.exec(line) ?? [];
      if (name !== undefined && held !== undefined) return [{ kind: 'key', name, text: held }];
      const note = /^\s*(?:#|<!--) (.*?)(?: -->)?$/.exec(line)?.[1];
      return note === undefined ? [] : [{ kind: 'note', text: note }];
    });
  }

  #happen(event: Event): void {
    const { settings } = this.#scenario;
    const all = this.#world.instances;
    const instance = 'instance' in event ? (all[event.instance % all.length] ?? '') : '';
    const edit = (file: FileName, change: (line: Line) => readonly Line[], more: readonly Line[] = []): void => {
      const lines = this.#lines(instance, file);
      if (lines !== undefined) this.#lay(instance, file, this.#age, [...lines.flatMap(change), ...more]);
    };
    const rewrite = (at: number, text: (placed: Placed, held: string) => string | undefined): void => {
      const placed = settings[at % settings.length];
      if (placed === undefined) return;
      const { file, name } = this.#world.spot(placed, this.#age);
      edit(file, (line) => {
        if (line.kind !== 'key' || line.name !== name) return [line];
        const now = text(placed, line.text);
        return now === undefined ? [] : [{ ...line, text: now }];
      });
    };
    switch (event.kind) {
      case 'update':
        if (this.#age !== 'one') return;
        for (const one of all) for (const file of files) this.#update(one, file, event);
        for (const one of all) this.#sweep(one, event.leaves);
        this.#age = 'two';
        return;
      case 'dialect':
        if (this.#age === 'one') this.#age = 'redone';
        return;
      case 'reset-file':
        this.#lay(instance, event.file, this.#age, this.#world.stockLines(event.file, this.#age));
        return;
      case 'remove-file':
        this.#history.card.delete(this.#path(instance, this.#world.path(event.file, this.#age)));
        return;
      case 'unowned': {
        const mine: Line = { kind: 'key', name: `mine-${event.at}`, text: '5' };
        const there = this.#lines(instance, event.file)?.some((line) => line.kind === 'key' && line.name === mine.name);
        if (event.at % 3 === 0)
          edit(event.file, (line) => [line], there === true ? [] : [{ kind: 'note', text: 'by hand' }, mine]);
        else
          edit(event.file, (line) => [line.kind === 'key' && line.name === 'free-a' ? { ...line, text: 'elm' } : line]);
        return;
      }
      case 'hand':
        rewrite(event.at, (placed) => this.#world.text(placed, event.value, this.#age));
        return;
      case 'take-out':
        rewrite(event.at, () => undefined);
        return;
      case 'respell':
        rewrite(event.at, (placed, held) => poolOf(placed).values.find(({ text }) => text === held)?.other ?? held);
        return;
    }
  }

  /** One file by the frontend's next version: as it ships, or with every key carried over that version 1 had. */
  #update(instance: string, file: FileName, event: Extract<Event, { kind: 'update' }>): void {
    const shipped = this.#world.stockLines(file, 'two');
    const old = this.#lines(instance, file);
    if (event.resets.includes(file) || old === undefined) return this.#lay(instance, file, 'two', shipped);
    const carried = new Map<string, string>();
    const gone = new Set<string>();
    for (const placed of this.#scenario.settings) {
      const [from, to] = [this.#world.spot(placed, 'one'), this.#world.spot(placed, 'two')];
      if (from.file === file) gone.add(from.name);
      const held = to.file === file ? this.#held(instance, from) : undefined;
      if (held === undefined) continue;
      const value = this.#world.meaning(placed, held, 'one');
      const anew = event.respells && typeof value === 'number' && held === this.#world.text(placed, value, 'one');
      carried.set(to.name, anew ? this.#world.text(placed, value, 'two') : held);
    }
    const stay = old.filter((line) => line.kind === 'note' || (!gone.has(line.name) && !carried.has(line.name)));
    const names = new Set(stay.flatMap((line) => (line.kind === 'key' ? [line.name] : [])));
    const ships = shipped.filter((line) => line.kind === 'key' && !names.has(line.name) && !carried.has(line.name));
    const over = [...carried].map(([name, text]): Line => ({ kind: 'key', name, text }));
    this.#lay(instance, file, 'two', [...stay, ...over, ...ships]);
  }

  #sweep(instance: string, leaves: boolean): void {
    for (const file of files) {
      const [from, to] = [this.#world.path(file, 'one'), this.#world.path(file, 'two')];
      if (from !== to && !leaves) this.#history.card.delete(this.#path(instance, from));
    }
  }

  #write(wanted: (placed: Placed) => number | undefined, when: string): readonly string[] {
    this.#useWorkspace(wanted);
    const expected: Expected[] = [];
    const next = new Map<string, Owned>();
    for (const instance of this.#world.instances)
      for (const placed of this.#scenario.settings) {
        const id = `${instance} ${placed.pool}`;
        const old = this.#owned.get(id);
        const spot = this.#world.spot(placed, this.#age);
        const value = wanted(placed);
        if (old !== undefined && (value === undefined || !sameSpot(old.spot, spot)))
          expected.push(this.#letGo(instance, placed, old, spot));
        if (value === undefined) continue;
        const text = this.#world.text(placed, value, this.#age);
        const fate = this.#fate(instance, placed, old, spot, text);
        expected.push(fate);
        next.set(id, {
          spot,
          age: this.#age,
          before: this.#before(instance, placed, old, spot),
          written:
            fate.kept && fate.class !== 'same'
              ? old === undefined
                ? fate.text
                : this.#renewed(placed, old.written, old.age)
              : text,
          kept: fate.kept && fate.class !== 'same' ? { text: fate.text } : undefined,
        });
      }
    const before = new Map(this.#history.card);
    const planned = this.#history.happen({ write: {} });
    const wrong = this.#compare(expected, before, planned, when);
    this.#owned = next;
    return wrong;
  }

  /** A text of another age as this one spells it. What the dialect's next version calls otherwise, it does not tell of. */
  #renewed(placed: Placed, text: string | undefined, age: Age): string | undefined {
    if (this.#age !== 'two' || age !== 'one') return text;
    const value = this.#world.meaning(placed, text, 'one');
    return typeof value === 'number' ? this.#world.text(placed, value, 'two') : text;
  }

  /** Whether a key holds a text of an earlier write, left as it was or carried over to this age. */
  #holds(placed: Placed, held: string | undefined, text: string | undefined, age: Age): boolean {
    const same = (one: string | undefined, other: string | undefined, at: Age): boolean =>
      this.#world.meaning(placed, one, at) === this.#world.meaning(placed, other, at);
    return same(held, this.#renewed(placed, text, age), this.#age) || (this.#age === 'two' && same(held, text, age));
  }

  #before(instance: string, placed: Placed, old: Owned | undefined, spot: Spot): Owned['before'] {
    const held = this.#held(instance, spot);
    if (old === undefined) return { text: held, age: this.#age };
    const fresh = !sameSpot(old.spot, spot) && (held === undefined || this.#asShipped(placed, held));
    return fresh
      ? { text: held, age: this.#age }
      : { text: this.#renewed(placed, old.before.text, old.before.age), age: this.#age };
  }

  #letGo(instance: string, placed: Placed, old: Owned, now: Spot): Expected {
    const held = this.#held(instance, old.spot);
    const ours = held !== undefined && this.#holds(placed, held, old.written, old.age);
    this.#count(ours ? 'let go' : 'let go, and not ours any more');
    // What means the same as what stood before us keeps its spelling.
    const stays = !ours || this.#holds(placed, held, old.before.text, old.before.age);
    // A key that is the old version's own gets back what that version had there.
    const back = sameSpot(old.spot, now) ? this.#renewed(placed, old.before.text, old.before.age) : old.before.text;
    return { instance, spot: old.spot, class: 'let-go', text: stays ? held : back, kept: stays || held === back };
  }

  /** The definition of the issue, in its order. */
  #fate(instance: string, placed: Placed, old: Owned | undefined, spot: Spot, wanted: string): Expected {
    const held = this.#held(instance, spot);
    const means = this.#world.meaning(placed, held, this.#age);
    const end = (kind: KeyClass, kept: boolean, why: string = kind): Expected => {
      this.#count(why);
      return { instance, spot, class: kind, text: kept ? held : wanted, kept };
    };
    if (held !== undefined && means === this.#world.meaning(placed, wanted, this.#age))
      return end('same', true, held === wanted ? 'same' : 'same, spelled otherwise');
    if (old === undefined) return end('first-time', false);
    const ours = held !== undefined && this.#holds(placed, held, old.written, old.age);
    if (!sameSpot(old.spot, spot)) {
      if (held === undefined) return end('moved', false, 'moved, and not there');
      if (ours) return end('moved', false, 'moved, and carried over');
      if (this.#asShipped(placed, held)) return end('moved', false, 'moved, as it ships');
    } else {
      if (ours) return end('profile-changed', false);
      if (this.#text(instance, spot.path) === undefined) return end('file-gone', false);
      if (this.#asShipped(placed, held) && this.#evidence(instance, spot, this.#isAsKept(placed, old, held)))
        return end('reset', false);
    }
    const said = (text: string | undefined): string | number | undefined =>
      this.#world.meaning(placed, text, this.#age);
    if (said(this.#renewed(placed, old.written, old.age)) !== said(wanted)) return end('both-changed', true);
    return end(held === undefined ? 'key-gone' : 'changed-by-hand', true);
  }

  /** No news since the last write. */
  #isAsKept(placed: Placed, { kept }: Owned, held: string | undefined): boolean {
    const means = (text: string | undefined): unknown => this.#world.meaning(placed, text, this.#age);
    return kept !== undefined && means(kept.text) === means(held);
  }

  #asShipped(placed: Placed, held: string | undefined): boolean {
    const shipped = this.#world.shipped(placed, this.#age);
    const text = shipped === undefined ? undefined : this.#world.text(placed, shipped, this.#age);
    return this.#world.meaning(placed, held, this.#age) === this.#world.meaning(placed, text, this.#age);
  }

  /** The version or stock is another one, or all of our keys in the file that are not as shipped, two at least, are again. */
  #evidence(instance: string, { file, path }: Spot, asKept: boolean): boolean {
    if (this.#age !== 'one' && this.#world.stockText(file, 'one') !== this.#world.stockText(file, this.#age))
      return true;
    if (this.#age === 'two') return true;
    if (asKept) return false;
    const differing = this.#scenario.settings.flatMap((placed) => {
      const old = this.#owned.get(`${instance} ${placed.pool}`);
      if (old?.spot.path !== path || this.#asShipped(placed, old.written)) return [];
      const held = this.#held(instance, old.spot);
      return this.#isAsKept(placed, old, held) ? [] : [this.#asShipped(placed, held)];
    });
    return differing.length >= 2 && differing.every((back) => back);
  }

  #compare(
    expected: readonly Expected[],
    was: ReadonlyMap<CardPath, string>,
    planned: Planned | undefined,
    when: string,
  ): readonly string[] {
    const wrong = (planned?.findings ?? [])
      .filter(({ grade }) => grade === 'error')
      .map(({ code, detail }) => `${when}: ${code}: ${detail}`);
    const byPath = new Map<CardPath, Expected[]>();
    for (const one of expected) {
      const path = this.#path(one.instance, one.spot.path);
      byPath.set(path, [...(byPath.get(path) ?? []), one]);
    }
    for (const path of new Set([...was.keys(), ...this.#history.card.keys(), ...byPath.keys()])) {
      const [old, now] = [was.get(path), this.#history.card.get(path)];
      const here = byPath.get(path) ?? [];
      const file = here[0]?.spot.file;
      if (old === undefined && now !== undefined) this.#made.add(path);
      if (file === undefined) {
        if (old !== now) wrong.push(`${when}: ${path} is nobody's and changed`);
        continue;
      }
      const format = this.#world.format(file);
      const held = readKeys(format, now ?? '');
      const told = new Map(planned?.merged.files.find((one) => one.path === path)?.keys.map((key) => [key.key, key]));
      for (const { spot, text, class: kind } of here) {
        if (held.get(spot.name) !== text)
          wrong.push(`${when}: ${path} ${spot.name} is ${String(held.get(spot.name))}, not ${String(text)} (${kind})`);
        const said = told.get(format.key(spot.name));
        if (said?.class !== kind)
          wrong.push(`${when}: ${path} ${spot.name} is called ${said?.class}, not ${kind}: ${said?.why}`);
      }
      if (here.every((one) => one.kept) && old !== now) wrong.push(`${when}: ${path} is written for nothing`);
      // A file that held nothing but ours goes with it.
      if (old === undefined || (now === undefined && this.#made.has(path) && when === 'all let go')) continue;
      const names = new Set(here.map(({ spot }) => spot.name));
      const [left, stays] = [linesWithout(format, old, names), linesWithout(format, now ?? '', names)];
      if (JSON.stringify(left) !== JSON.stringify(stays)) wrong.push(`${when}: ${path}: lines of nobody's changed`);
    }
    return wrong;
  }

  #count(fate: string): void {
    this.fates.set(fate, (this.fates.get(fate) ?? 0) + 1);
  }
}
