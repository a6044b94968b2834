import type { ScopePoint } from '../model/resolved.ts';
import type { CardPath } from '../model/paths.ts';
import type { Value } from '../model/value.ts';
import type { Syntax, SyntaxName, SyntaxValue } from '../syntax/contract.ts';
import { settingById, settings } from '../vocabulary/registry.ts';
import type { Scope, SettingDefinition } from '../vocabulary/types.ts';
import type { Cannot, Moment, Slots } from './codecs/contract.ts';
import { holdManner } from './codecs/pressed.ts';
import type { CompiledComputed, CompiledEntry, CompiledFile, CompiledRecords } from './compiled-dialect.ts';
import { spellComputed } from './computed.ts';
import type {
  ComputedSpelling,
  Context,
  KeyLookup,
  KeyPaths,
  KeyWrite,
  Lens,
  ReadBack,
  RecordLookup,
  Spelled,
  ValueLookup,
  WholeSpelling,
} from './contract.ts';
import { Locator } from './locator.ts';
import type { Placed, Target } from './locator.ts';
import { readHold } from './lens-hold.ts';
import { finishValue } from './literal.ts';
import { listNames } from './list-names.ts';
import { optionNames } from './option-names.ts';
import type { KeyOf } from './option-names.ts';
import { readComputed } from './read-computed.ts';
import { readWhole } from './read-whole.ts';
import { renamesAt } from './moved.ts';
import type { Renames } from './moved.ts';
import { scopeOf } from './place-values.ts';
import { pointNames } from './point-names.ts';
import { withRenames } from './renamed-entries.ts';
import { scopeOfNames } from './scope-of-names.ts';
import type { NameLookup, TemplateItem } from './template/template.ts';
import { RecordPlaces } from './record-places.ts';
import { sameHeld } from './same-held.ts';
import { RecordSpeller } from './spell-records.ts';
import { shownText } from './shown-text.ts';
import { settingsOf, templateOf, wholeFile } from './whole-files.ts';

const holdSetting = 'hotkeys.hold';

/** A dialect at one frontend version, on one device. */
export class DialectLens implements Lens {
  private readonly context: Context;
  private readonly syntaxes: Readonly<Record<SyntaxName, Syntax>>;
  private readonly files: ReadonlyMap<string, CompiledFile>;
  private readonly entries: ReadonlyMap<string, readonly CompiledEntry[]>;
  private readonly computedKeys: readonly CompiledComputed[];
  private readonly renames: Renames;
  private readonly locate: Locator;
  private readonly records: ReadonlyMap<string, CompiledRecords>;
  private readonly places: RecordPlaces;
  private readonly recordSpeller: RecordSpeller;
  /** Settings that are said in a template file or a computed key, with the scopes. */
  private readonly together = new Map<string, Set<Scope>>();

  constructor(
    context: Context,
    syntaxes: Readonly<Record<SyntaxName, Syntax>>,
    files: ReadonlyMap<string, CompiledFile>,
    entries: ReadonlyMap<string, readonly CompiledEntry[]>,
    computed: readonly CompiledComputed[],
    records: ReadonlyMap<string, CompiledRecords>,
  ) {
    this.context = context;
    this.syntaxes = syntaxes;
    this.files = files;
    this.renames = renamesAt(context.dialect, context.version);
    this.entries = withRenames(entries, this.renames);
    this.computedKeys = computed;
    this.locate = new Locator(context, syntaxes, this.renames);
    this.records = records;
    this.places = new RecordPlaces(context, this.locate, this.renames);
    this.recordSpeller = new RecordSpeller(context, this.places);
    const add = (id: string, scope: Scope): void => {
      const known = this.together.get(id);
      if (known === undefined) this.together.set(id, new Set([scope]));
      else known.add(scope);
    };
    for (const { written, scope } of computed) for (const id of written.from) add(id, scope);
    for (const file of files.values()) {
      if (file.written.syntax !== 'template') continue;
      const scope = scopeOfNames([...file.path.names]);
      for (const id of settingsOf(file, templateOf(file, context))) add(id, scope);
    }
    const hold = holdManner(context.dialect);
    const chords = [...entries].some(
      ([id, list]) =>
        id.startsWith('hotkeys.bind.') && list.some((e) => e.writes.some((w) => w.codec.rule.name === 'chord')),
    );
    // The hold control is said within every hotkey.
    if (!entries.has(holdSetting) && (hold === 'each' || (hold === 'none' && chords))) add(holdSetting, 'instance');
  }

  settings(): readonly string[] {
    const known = new Set([...this.entries.keys(), ...this.together.keys(), ...this.records.keys()]);
    return settings.filter((setting) => known.has(setting.id)).map((setting) => setting.id);
  }

  scopes(setting: string): readonly Scope[] {
    const found = new Set<Scope>(this.together.get(setting) ?? []);
    if (this.records.has(setting)) found.add('instance');
    for (const entry of this.entries.get(setting) ?? []) for (const scope of entry.scopes) found.add(scope);
    return (['instance', 'core', 'system', 'game'] as const).filter((scope) => found.has(scope));
  }

  spell(id: string, value: Value, point: ScopePoint, item?: string): Spelled {
    const setting = settingById(id);
    const scope = scopeOf(point);
    const records = scope === 'instance' ? this.records.get(id) : undefined;
    if (records !== undefined) return this.recordSpeller.spell(records, value, item);
    const entry = this.entryAt(id, scope);
    if (setting === undefined || entry === undefined || entry.templateFile !== undefined) {
      if (entry?.templateFile !== undefined || this.together.get(id)?.has(scope) === true)
        return { kind: 'exact', writes: [] };
      return {
        kind: 'cannot',
        code: 'not-expressible',
        why: `${this.context.dialect.data.dialect} has no entry for it${scope === 'instance' ? '' : ` for one ${scope}`}`,
      };
    }
    const at = this.moment(setting, point, item);
    const writes: KeyWrite[] = [];
    const hows: string[] = [];
    for (const write of entry.writes) {
      const placed = this.locate.place(write, point, at.names);
      if ('why' in placed) return placed;
      const told = write.codec.spell(value, at);
      if (told.kind === 'cannot') return told;
      if (told.kind === 'approximated') hows.push(told.how);
      const said = this.assign(placed, told.slots, value);
      if ('why' in said) return said;
      for (const [target, held] of said) {
        writes.push({
          file: placed.file.id,
          path: target.path,
          key: target.key,
          value:
            held === undefined
              ? undefined
              : finishValue(held, write.as, placed.file.written.syntax, write.codec.rule.name),
          dialectPlace: write.place,
          rule: write.codec.rule,
        });
      }
    }
    if (value.kind === 'press' && value.while !== 'press' && !entry.writes.some((write) => write.tellsWhile)) {
      hows.push(`it has one key for it, and holds or toggles as it likes, not always ${value.while}`);
    }
    return hows.length > 0
      ? { kind: 'approximated', writes, how: [...new Set(hows)].join('; ') }
      : { kind: 'exact', writes };
  }

  read(id: string, point: ScopePoint, look: KeyLookup, current?: Value, item?: string): ReadBack {
    const setting = settingById(id);
    const scope = scopeOf(point);
    const entry = this.entryAt(id, scope);
    if (setting === undefined) return { kind: 'absent' };
    if (entry === undefined) {
      if (id === holdSetting && this.together.has(id)) {
        const hotkeys = [...this.entries.keys()].filter((other) => other.startsWith('hotkeys.bind.'));
        return readHold(
          hotkeys.map((hotkey) => this.read(hotkey, point, look)),
          this.context.hold,
        );
      }
      return this.readComputed(setting, point, look, current);
    }
    const { templateFile } = entry;
    if (templateFile !== undefined) {
      if (current === undefined) return { kind: 'absent' };
      const made = this.wholeFiles((other) => (other === id ? current : undefined), point);
      return readWhole(
        current,
        made.filter(({ file }) => file === templateFile.id),
        look,
      );
    }
    const at = this.moment(setting, point, item);
    const placed = entry.writes.map((write) => this.locate.place(write, point, at.names));
    const found: Placed[] = [];
    for (const one of placed) {
      if ('why' in one) return { kind: 'absent' };
      found.push(one);
    }
    const held = found.flatMap((one) =>
      one.targets.map((target) => ({ file: one.file.id, key: target.key, value: look(target.path, target.key) })),
    );
    const agrees = (value: Value): boolean => found.every((one) => this.agrees(one, value, at, look));
    if (current !== undefined && agrees(current)) return { kind: 'value', value: current };
    if (held.every((key) => key.value === undefined)) return { kind: 'absent' };
    const candidates = found.flatMap((one) => this.candidates(one, at, look));
    const value = candidates.find(agrees);
    if (value !== undefined) return { kind: 'value', value };
    const there = held.filter((key) => key.value !== undefined);
    if (
      found.length > 1 &&
      candidates.some((candidate) => found.some((one) => this.agrees(one, candidate, at, look)))
    ) {
      return { kind: 'half-changed', keys: held.map(({ file, key }) => ({ file, key })) };
    }
    return {
      kind: 'unreadable',
      keys: there.map(({ file, key, value: text }) => ({ file, key, text: shownText(text, setting) })),
    };
  }

  readRecords(id: string, list: RecordLookup, item?: string, current?: Value): ReadBack {
    const records = this.records.get(id);
    return records === undefined ? { kind: 'absent' } : this.recordSpeller.read(records, list, item, current);
  }

  recordItems(id: string, list: RecordLookup, keys: KeyPaths): readonly string[] {
    const records = this.records.get(id);
    return records?.kind === 'lists' ? listNames(records, this.places, this.context, list, keys) : [];
  }

  optionItems(id: string, point: ScopePoint, keys: KeyPaths): readonly string[] {
    const entry = this.entryAt(id, scopeOf(point));
    if (settingById(id)?.type.kind !== 'options' || entry === undefined) return [];
    const cores = Object.keys(this.context.catalog?.cores ?? {});
    const others = new Set<string>();
    for (const [other, entries] of this.entries)
      for (const at of other === id ? [] : [{}, ...cores.map((core) => ({ core }))])
        for (const one of entries.filter(({ scopes }) => scopes.includes(scopeOf(at))))
          for (const { path, key } of this.keysAt(other, one, at)) others.add(`${path}\n${key}`);
    for (const { file, key } of this.computedKeys) {
      const path = this.locate.filePath(file, this.locate.cardNames({}), {});
      const name = this.locate.keyAt(file, key, pointNames(this.context, this.renames, {}, 'device'), {});
      if (typeof path === 'string' && typeof name === 'string') others.add(`${path}\n${name}`);
    }
    return optionNames(
      {
        keysOf: (at, option) => this.keysAt(id, entry, at, option),
        cores,
        taken: ({ path, key }) => others.has(`${path}\n${key}`),
      },
      point,
      keys,
    );
  }

  unlisted(...[id, value, list, item, also]: Parameters<Lens['unlisted']>): readonly KeyWrite[] {
    const records = this.records.get(id);
    return records === undefined ? [] : this.recordSpeller.unlisted(records, value, list, item, also);
  }

  computed(values: ValueLookup, point: ScopePoint): readonly ComputedSpelling[] {
    const scope = scopeOf(point);
    return this.computedKeys
      .filter((key) => key.scope === scope && key.written.from.some((id) => values(id) !== undefined))
      .map((key) => {
        const names = pointNames(this.context, this.renames, point, 'device');
        const path = this.locate.filePath(key.file, this.locate.cardNames(point), point);
        const name = this.locate.keyAt(key.file, key.key, names, point);
        const settings_ = key.written.from;
        if (typeof path !== 'string') return { settings: settings_, spelled: path };
        if (typeof name !== 'string') return { settings: settings_, spelled: name };
        const made = spellComputed(key, values, this.context, names);
        if (typeof made !== 'string') return { settings: settings_, spelled: made };
        const write: KeyWrite = {
          file: key.file.id,
          path,
          key: name,
          value: finishValue({ kind: 'scalar', text: made }, key.written.as, key.file.written.syntax, 'text'),
          dialectPlace: key.place,
          rule: { name: 'computed', says: `made from ${key.written.from.join(', ')}` },
        };
        return { settings: settings_, spelled: { kind: 'exact', writes: [write] } };
      });
  }

  wholeFiles(values: ValueLookup, point: ScopePoint): readonly WholeSpelling[] {
    const scope = scopeOf(point);
    const card = this.locate.cardNames(point);
    const names = pointNames(this.context, this.renames, point, 'device');
    return [...this.files.values()]
      .filter((file) => file.written.syntax === 'template' && scopeOfNames([...file.path.names]) === scope)
      .flatMap((file) =>
        wholeFile(
          file,
          this.context,
          this.syntaxes,
          names,
          (item) => this.locate.filePath(file, item === undefined ? card : within(item, card), point),
          values,
          point,
        ),
      );
  }

  path(id: string, point: ScopePoint, item?: Readonly<Record<string, string>>): CardPath | undefined {
    const file = this.files.get(id);
    if (file === undefined) return undefined;
    const own: TemplateItem = new Map(
      Object.entries(item ?? {}).map(([name, value]) => [name.startsWith('item.') ? name : `item.${name}`, value]),
    );
    const path = this.locate.filePath(file, within(own, this.locate.cardNames(point)), point);
    return typeof path === 'string' ? path : undefined;
  }

  private entryAt(id: string, scope: Scope): CompiledEntry | undefined {
    return this.entries.get(id)?.find((entry) => entry.scopes.includes(scope));
  }

  private moment(setting: SettingDefinition, point: ScopePoint, item: string | undefined): Moment {
    const base = pointNames(this.context, this.renames, point, 'device');
    const names: NameLookup = item === undefined ? base : (name) => (name === 'option.name' ? item : base(name));
    return { context: this.context, point, setting, names, renames: this.renames };
  }

  /** What each key of a write holds: its slot's text, or nothing. */
  private assign(placed: Placed, slots: Slots, value: Value): ReadonlyMap<Target, SyntaxValue | undefined> | Cannot {
    const manner = value.kind === 'press' ? value.while : undefined;
    const said = new Map<Target, SyntaxValue | undefined>();
    const used = new Set<string>();
    for (const target of placed.targets) {
      const { entry } = target;
      const wanted = entry.manner === undefined || manner === undefined || entry.manner === manner;
      const slot = [...slots.keys()].find((name) => entry.slot === undefined || entry.slot === name);
      if (wanted && slot !== undefined && value.kind !== 'none') {
        used.add(slot);
        said.set(target, slots.get(slot));
      } else {
        said.set(target, placed.write.codec.nothing);
      }
    }
    if ([...slots.keys()].every((slot) => used.has(slot)) || value.kind === 'none') {
      if (value.kind === 'none')
        for (const [target] of said) said.set(target, slots.values().next().value ?? placed.write.codec.nothing);
      return said;
    }
    const ways = [...new Set(placed.targets.map((target) => target.entry.manner).filter((name) => name !== undefined))];
    return manner !== undefined && ways.length > 0 && !ways.some((way) => way === manner)
      ? { kind: 'cannot', code: 'not-expressible', why: `it can be ${ways.join(' or ')} there, not ${manner}` }
      : { kind: 'cannot', code: 'no-such-control-form', why: 'the dialect has no key for this form of control' };
  }

  private agrees(placed: Placed, value: Value, at: Moment, look: KeyLookup): boolean {
    const { codec } = placed.write;
    const told = codec.spell(value, at);
    if (told.kind === 'cannot') return false;
    const ways = [told.slots, ...codec.others(value, at)];
    return ways.some((slots) => {
      const said = this.assign(placed, slots, value);
      if ('why' in said) return false;
      return [...said].every(([target, wanted]) => sameHeld(codec, look(target.path, target.key), wanted));
    });
  }

  private candidates(placed: Placed, at: Moment, look: KeyLookup): readonly Value[] {
    const manners = [...new Set(placed.targets.map((target) => target.entry.manner))];
    return manners.flatMap((manner) => {
      const slots = new Map<string, SyntaxValue>();
      for (const { entry, path, key } of placed.targets) {
        const value = entry.manner === manner ? look(path, key) : undefined;
        if (value !== undefined) slots.set(entry.slot ?? '', value);
      }
      if (slots.size === 0) return [];
      const found = placed.write.codec.candidates(slots, at);
      return manner === undefined ? found : found.filter((value) => value.kind !== 'press' || value.while === manner);
    });
  }

  private readComputed(
    setting: SettingDefinition,
    point: ScopePoint,
    look: KeyLookup,
    current: Value | undefined,
  ): ReadBack {
    const key = this.computedKeys.find((one) => one.scope === scopeOf(point) && one.written.from.includes(setting.id));
    const names = pointNames(this.context, this.renames, point, 'device');
    return key === undefined
      ? { kind: 'absent' }
      : readComputed(key, setting, this.locate, { names, point }, look, current);
  }

  /** The keys of an entry at one point; `item`: of one option. */
  private keysAt(id: string, entry: CompiledEntry, point: ScopePoint, item?: string): readonly KeyOf[] {
    const setting = settingById(id);
    if (setting === undefined || entry.templateFile !== undefined) return [];
    const { names } = this.moment(setting, point, item);
    return entry.writes.flatMap((write) => {
      const placed = this.locate.place(write, point, names);
      return 'why' in placed ? [] : placed.targets.map(({ path, key }) => ({ file: placed.file.id, path, key }));
    });
  }
}

function within(item: TemplateItem, names: NameLookup): NameLookup {
  return (name) => (name.startsWith('item.') ? item.get(name) : names(name));
}
