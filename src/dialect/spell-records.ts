import type { ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { SyntaxValue } from '../syntax/contract.ts';
import type { CompiledRecords } from './compiled-dialect.ts';
import type { Context, KeyWrite, ReadBack, RecordLookup, Spelled } from './contract.ts';
import { finishValue } from './literal.ts';
import { RecordReader } from './read-records.ts';
import { placeKey, pointOf, recordName } from './record-places.ts';
import type { RecordPlaces, Spot } from './record-places.ts';

type Failure = Extract<Spelled, { readonly kind: 'cannot' }>;

/**
 * Records at one device. A list is the whole list: what it names is put, into a record that is found by its field or
 * is added with the fields that identify it; from what it does not name the mark is taken, as the dialect says how.
 */
export class RecordSpeller {
  private readonly places: RecordPlaces;
  private readonly reader: RecordReader;

  constructor(context: Context, places: RecordPlaces) {
    this.places = places;
    this.reader = new RecordReader(context, places);
  }

  /** `item`: the name of the list. */
  spell(records: CompiledRecords, value: Value, item: string | undefined): Spelled {
    if (value.kind !== 'texts') return { kind: 'cannot', code: 'not-expressible', why: 'it is no list of texts' };
    const writes: KeyWrite[] = [];
    for (const text of new Set(value.texts)) {
      const write = this.one(records, text, item);
      if ('why' in write) return write;
      writes.push(write);
    }
    return { kind: 'exact', writes };
  }

  /** The games or systems whose records say it, in file order; `current` where they are the ones that it names. */
  read(records: CompiledRecords, list: RecordLookup, item: string | undefined, current: Value | undefined): ReadBack {
    const wanted = this.wanted(records, current, item);
    const standing = this.reader.standing(records, list, item, current?.kind === 'texts' ? current.texts : []);
    const on = standing.filter((record) => record.on);
    const marked = new Set(on.map((record) => placeKey(record.spot, record.is)));
    if (current !== undefined && wanted?.size === marked.size && [...marked].every((key) => wanted.has(key)))
      return marked.size === 0 && standing.length === 0 ? { kind: 'absent' } : { kind: 'value', value: current };
    if (on.length === 0 && !standing.some((record) => record.has)) return { kind: 'absent' };
    return { kind: 'value', value: { kind: 'texts', texts: [...new Set(on.map((record) => record.names))] } };
  }

  /** What takes the setting from the records that say it of something else than the value names. */
  unlisted(
    records: CompiledRecords,
    value: Value,
    list: RecordLookup,
    item: string | undefined,
    also: (write: KeyWrite) => boolean = () => false,
  ): readonly KeyWrite[] {
    const wanted = this.wanted(records, value, item);
    if (wanted === undefined) return [];
    const writes = new Map<string, KeyWrite>();
    for (const { on, spot, is, names } of this.reader.standing(
      records,
      list,
      item,
      value.kind === 'texts' ? value.texts : [],
    )) {
      const key = placeKey(spot, is);
      if (wanted.has(key)) continue;
      const write = this.off(records, spot, is, names);
      if (on || also(write)) writes.set(key, write);
    }
    return [...writes.values()];
  }

  /** Names of the records that a value marks; undefined where it cannot be spelled at all. */
  private wanted(
    records: CompiledRecords,
    value: Value | undefined,
    item: string | undefined,
  ): ReadonlySet<string> | undefined {
    if (value?.kind !== 'texts') return undefined;
    const keys = new Set<string>();
    for (const text of value.texts) {
      const point = pointOf(records, text);
      const spot = typeof point === 'string' ? undefined : this.places.spot(records, point, item);
      if (spot === undefined || 'why' in spot) return undefined;
      keys.add(placeKey(spot, spot.is));
    }
    return keys;
  }

  private one(records: CompiledRecords, text: string, item: string | undefined): KeyWrite | Failure {
    const point = pointOf(records, text);
    if (typeof point === 'string') return { kind: 'cannot', code: 'not-expressible', why: point };
    const spot = this.places.spot(records, point, item);
    if ('why' in spot) return spot;
    const { syntax } = records.file.written;
    const fresh = this.fresh(records, point, item);
    if ('why' in fresh) return fresh;
    return {
      file: records.file.id,
      path: spot.path,
      key: recordName(records, spot, spot.is),
      value: finishValue({ kind: 'scalar', text: spot.on }, spot.as, syntax, 'values'),
      record: {
        at: spot.at,
        by: records.by,
        is: spot.is,
        field: spot.field,
        identity: this.identity(records, spot.system),
        ...(fresh.size === 0 ? {} : { fresh }),
      },
      dialectPlace: records.place,
      rule: { name: 'records', says: `the record found by ${records.by}, or a new one` },
    };
  }

  private off(records: CompiledRecords, spot: Spot, is: string, names: string): KeyWrite {
    const { off, file, by } = records;
    const { syntax } = file.written;
    const what = records.kind === 'hidden-systems' ? 'system' : 'game';
    return {
      file: file.id,
      path: spot.path,
      key: recordName(records, spot, is),
      value:
        off.kind === 'text' ? finishValue({ kind: 'scalar', text: off.text }, undefined, syntax, 'values') : undefined,
      record: {
        at: spot.at,
        by,
        is,
        field: spot.field,
        identity: this.identity(records, spot.system),
        ...(off.kind === 'record-out' ? { whole: true } : {}),
      },
      dialectPlace: records.place,
      rule: {
        name: 'records-unlisted',
        says: `the ${what} ${names} is not listed: ${off.kind === 'text' ? 'the field is put to off' : off.kind === 'field-out' ? 'the field is taken out' : 'the record is taken out'}`,
      },
    };
  }

  private identity(records: CompiledRecords, system: string | undefined): ReadonlyMap<string, SyntaxValue> {
    if (records.system === undefined || system === undefined) return new Map();
    const { syntax } = records.file.written;
    return new Map([[records.system.field, finishValue({ kind: 'scalar', text: system }, 'string', syntax, 'text')]]);
  }

  private fresh(
    records: CompiledRecords,
    point: ScopePoint,
    item: string | undefined,
  ): ReadonlyMap<string, SyntaxValue> | Failure {
    const made = new Map<string, SyntaxValue>();
    for (const { field, is } of records.fresh) {
      const text = this.places.text(is, point, item);
      if (typeof text !== 'string') return text;
      made.set(field, finishValue({ kind: 'scalar', text }, undefined, records.file.written.syntax, 'values'));
    }
    return made;
  }
}
