import { parse, stringify } from 'yaml';
import { styleOf } from '../../../../src/dialect/style-of.ts';
import type { ScopePoint } from '../../../../src/model/resolved.ts';
import type { Value } from '../../../../src/model/value.ts';
import { syntaxes } from '../../../../src/syntax/registry.ts';
import type { Change } from '../../../../src/syntax/contract.ts';
import { applyEdits } from '../../../../src/text/text-edit.ts';
import { settingById, settings as registry } from '../../../../src/vocabulary/registry.ts';
import type { DialectWritten, EntryWritten } from '../../../../src/vocabulary/shapes/dialect.ts';
import type { SettingDefinition } from '../../../../src/vocabulary/types.ts';
import { isPosition } from '../../../../src/vocabulary/positions.ts';
import type { Position } from '../../../../src/vocabulary/positions.ts';
import { valueFromText } from '../../dialect/value-text.ts';
import type { CorpusCopy, CorpusEntry, KeyOfFile, Label } from '../corpus-entry.ts';
import { truthOf } from '../truth-of.ts';
import { Dice } from './dice.ts';
import { KeyNames } from './key-names.ts';
import { MadeCodecs } from './made-codec.ts';
import { madeControls } from './made-controls.ts';
import { madeFile } from './made-keys.ts';
import type { MadeFile } from './made-keys.ts';

const name = 'made';
const sections = ['first', 'second', 'third'] as const;

/** A device of the corpus: its profile, capture, and the controls that it has. */
export interface MadeDevice {
  readonly profile: string;
  readonly capture: string;
}

interface Made {
  readonly setting: SettingDefinition;
  readonly system: string | undefined;
  readonly values: readonly string[];
}

interface Place {
  readonly id: string;
  readonly kind: MadeFile;
  readonly path: string;
}

/**
 * A frontend that a seed decides, unlike the last: files, names of keys, spellings of values and controls, what moves by
 * itself, and the copies that somebody takes of it by the sheet: two idle ones, two with other hotkeys, some with switches
 * turned. Made by our own lens from a dialect that is the truth.
 */
export function madeFrontend(seed: number, devices: readonly MadeDevice[]): CorpusEntry {
  const dice = new Dice(seed);
  const device = dice.of(devices);
  const profile = parse(device.profile) as { device: { controls: Record<string, unknown> } } & Record<string, unknown>;
  const written = {
    ...profile,
    frontends: { [name]: { dialect: `${name}@1`, version: '1.0', root: 'settings:made' } },
  };
  const pressTest = /== press-test\n([^=]*)/.exec(device.capture)?.[1]?.trim().split('\n') ?? [];
  const positions = pressTest.map((line) => line.trim().split(/\s/)[0] ?? '').filter(isPosition);
  const usable = positions.filter((one) => !/volume|power|mode|^select$/.test(one));

  const kinds: Place[] = Array.from({ length: dice.whole(1, 3) }, (_, at) => {
    const kind = madeFile(dice);
    return { id: `f${at}`, kind, path: `${dice.of(['play', 'input', 'look', 'keys'])}${at}${kind.ending}` };
  });
  const [main] = kinds;
  if (main === undefined) throw new Error('no file');
  const bySystem: Place = { id: 'by-system', kind: main.kind, path: `systems/{{system.folder}}${main.kind.ending}` };
  const habit = dice.of(['trade', 'terse', 'numbers', 'strange'] as const);
  const plain = ['camel', 'snake', 'kebab', 'upper'] as const;
  const names = new Map(
    kinds.map((place) => [
      place,
      new KeyNames(
        dice,
        habit === 'numbers' && place.kind.syntax === 'xml' && place.kind.key('', '').includes('/n') ? 'terse' : habit,
        place.kind.spaced ? ['spaced'] : plain,
      ),
    ]),
  );
  const nameIn = (place: Place): KeyNames => names.get(place) ?? new KeyNames(dice, habit, plain);
  const codecs = new MadeCodecs(dice);
  const controls = madeControls(dice, positions);
  const settings: Record<string, EntryWritten | readonly EntryWritten[]> = {};
  const made: Made[] = [];
  const scoped = dice.chance(0.4);
  const cores: Readonly<Record<string, readonly string[]>> = {
    burdock: ['made/dunnock', 'made/thrush'],
    orrery: ['made/dunlin', 'made/plover'],
  };

  const candidates = registry.filter(
    ({ roles, type, id }) =>
      roles.includes('player') && !['bind', 'control', 'secret'].includes(type.kind) && id !== 'pad.mapping',
  );
  for (const setting of dice.some(candidates, dice.whole(12, 30))) {
    const systemOnly = setting.type.kind === 'cores';
    const place: Place = systemOnly ? main : dice.of(kinds);
    if (systemOnly && !scoped) continue;
    const spelling = codecs.of(setting, systemOnly ? (cores['burdock'] ?? []) : []);
    if (spelling === undefined) continue;
    const key = place.kind.key(dice.of(sections), nameIn(place).of(setting));
    if (systemOnly) {
      settings[setting.id] = { file: { system: bySystem.id }, key, ...spelling.codec };
      for (const system of ['burdock', 'orrery'])
        made.push({ setting, system, values: dice.shuffled(cores[system] ?? []) });
      continue;
    }
    if (setting.type.kind === 'boolean' && dice.chance(0.1)) {
      const other = place.kind.key(dice.of(sections), nameIn(place).of(setting));
      settings[setting.id] = {
        writes: [
          { file: place.id, key, ...spelling.codec },
          { file: place.id, key: other, values: { true: '2', false: '1' } },
        ],
      };
    } else if (scoped && setting.scopes.includes('system') && place === main && dice.chance(0.3)) {
      settings[setting.id] = { file: { instance: place.id, system: bySystem.id }, key, ...spelling.codec };
      made.push({ setting, system: 'burdock', values: spelling.values });
    } else settings[setting.id] = { file: place.id, key, ...spelling.codec };
    made.push({ setting, system: undefined, values: spelling.values });
  }
  const home = dice.of(kinds);
  const binds = dice.some(
    registry.filter(
      ({ type, id, roles }) => type.kind === 'bind' && roles.includes('player') && id !== 'hotkeys.bind.open-menu',
    ),
    Math.min(dice.whole(4, 13), usable.length),
  );
  const stands: Label[] = [];
  const bindKey = (setting: SettingDefinition): string => home.kind.key('pad', nameIn(home).of(setting));
  if (controls.hold === 'global') {
    const hold = settingById('hotkeys.hold');
    if (hold !== undefined) settings[hold.id] = { file: home.id, key: bindKey(hold), control: {} };
    stands.push({ set: 'hotkeys.hold', to: 'mode' });
  }
  for (const setting of binds) settings[setting.id] = { file: home.id, key: bindKey(setting), control: {} };

  const usesSystems = JSON.stringify(settings).includes('"by-system"');
  const places = usesSystems ? [...kinds, bySystem] : kinds;
  const dialect: DialectWritten = {
    dialect: name,
    format: 1,
    version: '1.0.0',
    'for-versions': '>=0',
    role: 'player',
    files: Object.fromEntries(
      places.map(({ id, kind, path }) => [
        id,
        {
          path: `{{root}}/${path}`,
          syntax: kind.syntax,
          ...(Object.keys(kind.style).length === 0 ? {} : { style: kind.style }),
        },
      ]),
    ),
    ...(usesSystems ? { order: ['instance', 'system'] as const } : {}),
    controls,
    settings,
  };
  const labels = new Map<string, readonly Label[]>();
  const entry: CorpusEntry = {
    name,
    part: 'tuning',
    copies: [],
    labels,
    stands,
    noise: [],
    lookAlikes: [],
    canTell: [],
    truth: stringify(dialect),
    profile: stringify(written),
    capture: device.capture,
  };
  const { lens } = truthOf(entry);

  const texts = new Map<string, { readonly text: string; readonly kind: MadeFile }>();
  const kindOf = new Map(places.map(({ id, kind }) => [id, kind]));
  const change = (path: string, kind: MadeFile, changes: readonly Change[]): void => {
    const text = texts.get(path)?.text ?? kind.empty;
    const syntax = syntaxes[kind.syntax];
    const { tree } = syntax.parse({ name: path, text }, styleOf(kind.style));
    if (tree === undefined) throw new Error(`made a text that cannot be read: ${text}`);
    const { edits, results } = syntax.change(tree, changes);
    for (const result of results) if (result.kind === 'refused') throw new Error(`${path}: ${result.finding.detail}`);
    texts.set(path, { text: applyEdits(text, edits), kind });
  };
  const set = (setting: string, value: Value, point: ScopePoint): void => {
    const spelled = lens.spell(setting, value, point);
    if (spelled.kind === 'cannot' || (spelled.kind === 'approximated' && value.kind !== 'press'))
      throw new Error(`${setting}: ${spelled.kind === 'cannot' ? spelled.why : spelled.how} ${JSON.stringify(value)}`);
    for (const { path, key, value: held, file } of spelled.writes) {
      const kind = kindOf.get(file);
      if (kind !== undefined)
        change(path.replace(/^settings:made\//, ''), kind, [
          held === undefined ? { op: 'remove', path: key } : { op: 'set', path: key, value: held },
        ]);
    }
  };
  const say = (label: Label): void => {
    const value = valueFromText(label.set, label.to);
    const held = settingById(label.set)?.type;
    const bind =
      value.kind === 'press' && held?.kind === 'bind' && held.whiles ? { ...value, while: 'held' as const } : value;
    set(label.set, bind, label.system === undefined ? {} : { system: label.system });
  };

  // How it lies there at first.
  const now = new Map<Made, string>();
  for (const one of made) {
    const [first = ''] = one.values;
    now.set(one, first);
    say({ set: one.setting.id, to: first, ...(one.system === undefined ? {} : { system: one.system }) });
  }
  for (const label of stands) say(label);
  const pressFor = (position: Position): string => (controls.hold === 'none' ? `alone ${position}` : position);
  const writable = usable.filter((position) => {
    const [bind] = binds;
    return bind === undefined || lens.spell(bind.id, valueFromText(bind.id, pressFor(position)), {}).kind !== 'cannot';
  });
  dice.some(writable, binds.length).forEach((position, at) => {
    const bind = binds[at];
    if (bind !== undefined) say({ set: bind.id, to: pressFor(position) });
  });
  const noise = Array.from({ length: dice.whole(1, 4) }, (_, at) => {
    const place = dice.of(kinds);
    const kind = dice.of(['counter', 'clock', 'last', 'window'] as const);
    return { place, key: place.kind.key(dice.of(sections), nameIn(place).other()), kind, at };
  });
  const still: KeyOfFile[] = Array.from({ length: dice.whole(1, 5) }, () => {
    const place = dice.of(kinds);
    const key = place.kind.key(dice.of(sections), nameIn(place).other());
    change(place.path, place.kind, [
      { op: 'set', path: key, value: { kind: 'scalar', text: dice.of(['1', 'yes', '640', 'a word', '0']) } },
    ]);
    return { file: place.path, key };
  });
  const copies: CorpusCopy[] = [];
  const copy = (title: string, changed: readonly Label[]): void => {
    for (const { place, key, kind } of noise) {
      const count = copies.length;
      if (kind === 'last' && !dice.chance(0.5) && count > 0) continue;
      const text =
        kind === 'counter'
          ? String(100 + count * 3 + dice.whole(0, 2))
          : kind === 'clock'
            ? `2031-04-${String(10 + count)}T0${String(dice.whole(1, 9))}:00:00`
            : kind === 'last'
              ? dice.of(['reed-song', 'tin-comet', 'lantern-walk'])
              : String(dice.whole(400, 900));
      change(place.path, place.kind, [{ op: 'set', path: key, value: { kind: 'scalar', text } }]);
    }
    const at = `${copies.length}-${title}`;
    labels.set(at, changed);
    copies.push({ name: at, files: new Map([...texts].map(([path, { text }]) => [path, Buffer.from(text)])) });
  };
  copy('idle', []);
  copy('idle', []);
  for (const title of ['hotkeys-a', 'hotkeys-b']) {
    // Every action on a sequence of controls of its own.
    const order = dice.some(writable, binds.length);
    const told = binds.flatMap((bind, at): readonly Label[] => {
      const position = order[at];
      return position === undefined ? [] : [{ set: bind.id, to: pressFor(position) }];
    });
    const before = JSON.stringify([...texts]);
    const kept = told.filter((label) => {
      const here = JSON.stringify([...texts]);
      say(label);
      return JSON.stringify([...texts]) !== here;
    });
    if (JSON.stringify([...texts]) !== before) copy(title, kept);
  }
  // As many copies as tell so many settings apart, and now and then one more.
  const switches = Math.ceil(Math.log2(made.length + 1)) + dice.whole(0, 1);
  const patterns = dice.shuffled(Array.from({ length: 2 ** switches - 1 }, (_, at) => at + 1));
  for (let count = 0; count < switches; count++) {
    const told = made.flatMap((one, at): readonly Label[] => {
      const pattern = patterns[at] ?? 1;
      if (((pattern >> count) & 1) === 0) return [];
      const others = one.values.filter((value) => value !== now.get(one));
      if (others.length === 0) return [];
      const to = dice.of(others);
      now.set(one, to);
      return [{ set: one.setting.id, to, ...(one.system === undefined ? {} : { system: one.system }) }];
    });
    for (const label of told) say(label);
    copy(`switches-${count}`, told);
  }
  return {
    ...entry,
    copies,
    noise: noise.map(({ place, key }) => ({ file: place.path, key })),
    lookAlikes: still,
  };
}
