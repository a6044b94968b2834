import type { ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { SyntaxValue } from '../syntax/contract.ts';
import type { CompiledRecords } from './compiled-dialect.ts';
import type { Context, KeyWrite, ReadBack, RecordLookup, Spelled } from './contract.ts';
import { escapeInKey } from './key-escape.ts';
import { finishValue } from './literal.ts';
import type { Locator } from './locator.ts';
import type { Renames } from './moved.ts';
import { pointNames } from './point-names.ts';
import type { NameLookup } from './template/template.ts';

type Failure = Extract<Spelled, { readonly kind: 'cannot' }>;

function cannot(why: string): Failure {
  return { kind: 'cannot', code: 'not-expressible', why };
}

/**
 * Records at one device. What a setting lists is put: a record found by its field, or added with the fields that
 * identify it. What is not listed is left alone: no field is ever switched off.
 */
export class RecordSpeller {
  private readonly context: Context;
  private readonly locate: Locator;
  private readonly renames: Renames;

  constructor(context: Context, locate: Locator, renames: Renames) {
    this.context = context;
    this.locate = locate;
    this.renames = renames;
  }

  /** `item`: the name of the list. */
  spell(records: CompiledRecords, value: Value, item: string | undefined): Spelled {
    if (value.kind !== 'texts') return cannot('it is no list of texts');
    const writes: KeyWrite[] = [];
    for (const text of new Set(value.texts)) {
      const write = this.one(records, text, item);
      if ('why' in write) return write;
      writes.push(write);
    }
    return { kind: 'exact', writes };
  }

  /** The games or systems whose records say it, in file order; games of systems that the catalog has. */
  read(records: CompiledRecords, list: RecordLookup, item: string | undefined): ReadBack {
    const found = new Set<string>();
    const systems = Object.keys(this.context.catalog?.systems ?? {});
    for (const system of systems) {
      const point: ScopePoint = records.kind === 'hidden-systems' ? { system } : { system, game: mark };
      const place = this.place(records, point, item);
      if ('why' in place) continue;
      const [before = '', after, ...more] = place.is.split(mark);
      if (more.length > 0) continue;
      const fields = [records.by, place.field, ...(records.system === undefined ? [] : [records.system])];
      for (const record of list(records.file.id, place.path, place.at, fields)) {
        if (record.fields.get(place.field) !== place.value.text) continue;
        const own = records.system === undefined ? undefined : record.fields.get(records.system);
        if (own !== undefined && own !== system) continue;
        const is = record.fields.get(records.by) ?? '';
        if (after === undefined) {
          if (is === before) found.add(system);
        } else if (is.startsWith(before) && is.endsWith(after) && is.length > before.length + after.length)
          found.add(`${system}/${is.slice(before.length, is.length - after.length)}`);
      }
    }
    return found.size === 0 ? { kind: 'absent' } : { kind: 'value', value: { kind: 'texts', texts: [...found] } };
  }

  private one(records: CompiledRecords, text: string, item: string | undefined): KeyWrite | Failure {
    const slash = text.indexOf('/');
    if (records.kind !== 'hidden-systems' && (slash <= 0 || slash === text.length - 1))
      return cannot(`${JSON.stringify(text)} names no game as system/path`);
    const point: ScopePoint =
      records.kind === 'hidden-systems'
        ? { system: text }
        : { system: text.slice(0, slash), game: text.slice(slash + 1) };
    const place = this.place(records, point, item);
    if ('why' in place) return place;
    const { syntax } = records.file.written;
    const identity = new Map<string, SyntaxValue>();
    if (records.system !== undefined && point.system !== undefined)
      identity.set(records.system, finishValue({ kind: 'scalar', text: point.system }, 'string', syntax, 'text'));
    return {
      file: records.file.id,
      path: place.path,
      key: `${place.at}[${records.by}=${place.is}] ${place.field}`,
      value: finishValue(place.value, place.as, syntax, 'values'),
      record: { at: place.at, by: records.by, is: place.is, field: place.field, identity },
      dialectPlace: records.place,
      rule: { name: 'records', says: `the record found by ${records.by}, or a new one` },
    };
  }

  private place(
    records: CompiledRecords,
    point: ScopePoint,
    item: string | undefined,
  ):
    | {
        readonly path: KeyWrite['path'];
        readonly at: string;
        readonly is: string;
        readonly field: string;
        readonly value: { readonly kind: 'scalar'; readonly text: string };
        readonly as: 'string' | undefined;
      }
    | Failure {
    const { file } = records;
    const { syntax } = file.written;
    if (file.written['generated-from'] !== undefined)
      return cannot(`the frontend makes ${file.id} anew from other files, so what is written there is lost`);
    const path = this.locate.filePath(file, this.locate.cardNames(point));
    if (typeof path !== 'string') return path;
    const base = pointNames(this.context, this.renames, point, 'device');
    const names: NameLookup = (name) => (name === 'option.name' ? item : base(name));
    const at = this.locate.keyText(records.at, syntax, names);
    if (typeof at !== 'string') return at;
    const is = records.is.render(names, (part) => part);
    const field = records.field.render(names, (part) => escapeInKey(syntax, part));
    if (is.kind !== 'text') return cannot(is.kind === 'cannot' ? is.why : `{{${is.name}}} has no value here`);
    if (field.kind !== 'text')
      return cannot(field.kind === 'cannot' ? field.why : `{{${field.name}}} has no value here`);
    // A list has a field of its own, or its name stands in a field for all.
    const named = records.kind === 'lists' && !records.field.names.has('option.name');
    if (named && item === undefined) return cannot('the list has no name');
    return {
      path,
      at,
      is: is.text,
      field: field.text,
      value: { kind: 'scalar', text: named ? (item ?? '') : records.on },
      as: named ? 'string' : undefined,
    };
  }
}

/** Stands for a game's path where a record's text is read back; no file name can hold it. */
const mark = '\u0001';
