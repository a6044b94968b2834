import type { CardPath } from '../model/paths.ts';
import type { CompiledRecords } from './compiled-dialect.ts';
import type { Context, RecordLookup } from './contract.ts';
import { pointOf } from './record-places.ts';
import type { RecordPlaces, Spot } from './record-places.ts';

/** One record that stands in a file and is of a game (or system) that the dialect could have written. */
export interface StandingRecord {
  readonly spot: Spot;
  /** What the field that finds it holds. */
  readonly is: string;
  /** `system/path`, or the system. */
  readonly names: string;
  readonly on: boolean;
  /** Whether it has the field at all. */
  readonly has: boolean;
}

/** How the records of one system are told from others, and the rest of their text is a game's path. */
interface Pattern {
  readonly system: string;
  readonly spot: Spot;
  readonly before: string;
  /** Undefined: the text is the whole of `before`, as of a system. */
  readonly after: string | undefined;
}

/** Stand for a game's path and a system where a text is read back; no file name can hold them. */
const gameMark = '\u0001';
const systemMark = '\u0002';

/** Reads records back into games and systems: those of the catalog, and others where the records tell them. */
export class RecordReader {
  private readonly context: Context;
  private readonly places: RecordPlaces;

  constructor(context: Context, places: RecordPlaces) {
    this.context = context;
    this.places = places;
  }

  /** In the order of systems' files, then of the records in each. `texts`: games or systems that may stand there. */
  standing(
    records: CompiledRecords,
    list: RecordLookup,
    item: string | undefined,
    texts: readonly string[],
  ): readonly StandingRecord[] {
    const { system: systemField, file, by } = records;
    const systems = new Set(Object.keys(this.context.catalog?.systems ?? {}));
    for (const text of texts) {
      const point = pointOf(records, text);
      if (typeof point !== 'string' && point.system !== undefined) systems.add(point.system);
    }
    const groups = new Map<string, { path: CardPath; at: string; fields: Set<string>; patterns: Pattern[] }>();
    for (const system of systems) {
      const pattern = this.pattern(records, system, item);
      if (pattern === undefined) continue;
      const { spot } = pattern;
      const key = `${spot.path}\n${spot.at}`;
      const group = groups.get(key) ?? { path: spot.path, at: spot.at, fields: new Set<string>(), patterns: [] };
      groups.set(key, group);
      group.fields.add(spot.field);
      group.patterns.push(pattern);
    }
    const other = this.unknown(records, systems, item);
    if (other !== undefined) {
      const { path, at, field } = other.spot;
      const key = `${path}\n${at}`;
      if (!groups.has(key)) groups.set(key, { path, at, fields: new Set([field]), patterns: [] });
    }
    const found: StandingRecord[] = [];
    for (const { path, at, fields, patterns } of groups.values()) {
      const all = [by, ...fields, ...(systemField === undefined ? [] : [systemField.field])];
      for (const record of list(file.id, path, at, all)) {
        const is = record.fields.get(by);
        if (is === undefined) continue;
        const own = systemField === undefined ? undefined : record.fields.get(systemField.field);
        const read = known(patterns, is, own) ?? other?.read(is, own);
        if (read === undefined) continue;
        const held = record.fields.get(read.spot.field);
        found.push({ spot: read.spot, is, names: read.names, on: held === read.spot.on, has: held !== undefined });
      }
    }
    return found;
  }

  private pattern(records: CompiledRecords, system: string, item: string | undefined): Pattern | undefined {
    const point = records.kind === 'hidden-systems' ? { system } : { system, game: gameMark };
    const spot = this.places.spot(records, point, item);
    if ('why' in spot) return undefined;
    const [before = '', after, ...more] = spot.is.split(gameMark);
    return more.length > 0 ? undefined : { system, spot, before, after };
  }

  /** Records of systems that the catalog does not have, where all stand in one place and tell their system. */
  private unknown(
    records: CompiledRecords,
    systems: ReadonlySet<string>,
    item: string | undefined,
  ):
    | {
        readonly spot: Spot;
        read(is: string, own: string | undefined): { readonly spot: Spot; readonly names: string } | undefined;
      }
    | undefined {
    const told = [records.file.path, records.at, records.field].some(({ names }) =>
      [...names].some((name) => name.startsWith('system.')),
    );
    const pattern = told ? undefined : this.pattern(records, systemMark, item);
    if (pattern === undefined) return undefined;
    const { spot } = pattern;
    const ofText = matcher(spot.is);
    const ofField = spot.system === undefined ? undefined : matcher(spot.system);
    const read = (is: string, own: string | undefined): { spot: Spot; names: string } | undefined => {
      const groups = ofText.exec(is)?.groups;
      const system = groups?.['system'] ?? (own === undefined ? undefined : ofField?.exec(own)?.groups?.['system']);
      if (groups === undefined || system === undefined || systems.has(system) || system.includes('/')) return undefined;
      const game = groups['game'];
      const names = game === undefined ? system : `${system}/${game}`;
      const point = pointOf(records, names);
      const back = typeof point === 'string' ? undefined : this.places.spot(records, point, item);
      // What would be spelled otherwise is not the dialect's own writing.
      if (back === undefined || 'why' in back || back.is !== is) return undefined;
      return own !== undefined && back.system !== undefined && own !== back.system ? undefined : { spot: back, names };
    };
    return { spot, read };
  }
}

/** The game of a system that is known; of several that fit, the one that says most of the text. */
function known(
  patterns: readonly Pattern[],
  is: string,
  own: string | undefined,
): { readonly spot: Spot; readonly names: string } | undefined {
  let best: Pattern | undefined;
  for (const pattern of patterns) {
    const { spot, before, after } = pattern;
    if (own !== undefined && spot.system !== undefined && own !== spot.system) continue;
    const fits =
      after === undefined
        ? is === before
        : is.length > before.length + after.length && is.startsWith(before) && is.endsWith(after);
    if (fits && (best === undefined || before.length > best.before.length)) best = pattern;
  }
  if (best === undefined) return undefined;
  const { system, spot, before, after } = best;
  const names =
    after === undefined ? system : `${system}/${is.slice(before.length, after === '' ? undefined : -after.length)}`;
  return { spot, names };
}

/** Reads a text in which a system and a game are marked; each is the same wherever it stands. */
function matcher(text: string): RegExp {
  let source = '';
  const seen = new Set<string>();
  for (const character of text) {
    const name = character === systemMark ? 'system' : character === gameMark ? 'game' : undefined;
    if (name === undefined) source += character.replace(/[\\^$.*+?()[\]{}|/]/, '\\$&');
    else if (seen.has(name)) source += `\\k<${name}>`;
    else source += name === 'system' ? '(?<system>[^/]+)' : '(?<game>.+)';
    if (name !== undefined) seen.add(name);
  }
  return new RegExp(`^${source}$`, 'su');
}
