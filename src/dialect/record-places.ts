import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { CompiledRecords } from './compiled-dialect.ts';
import type { Context, Spelled } from './contract.ts';
import { escapeInKey } from './key-escape.ts';
import type { Locator } from './locator.ts';
import type { Renames } from './moved.ts';
import { pointNames } from './point-names.ts';
import type { NameLookup, Template } from './template/template.ts';

type Failure = Extract<Spelled, { readonly kind: 'cannot' }>;

/** Where and how the record of one game or system says a setting. */
export interface Spot {
  readonly path: CardPath;
  readonly at: string;
  /** What the field that finds the record holds. */
  readonly is: string;
  /** What the system's field holds, where records have one. */
  readonly system: string | undefined;
  readonly field: string;
  /** What the field holds where it is on: the name of the list, or the dialect's spelling. */
  readonly on: string;
  readonly as: 'string' | undefined;
}

function cannot(why: string): Failure {
  return { kind: 'cannot', code: 'not-expressible', why };
}

/** The scope point that a text of the setting names, or why it names none. */
export function pointOf(records: CompiledRecords, text: string): ScopePoint | string {
  if (records.kind === 'hidden-systems') return { system: text };
  const slash = text.indexOf('/');
  return slash <= 0 || slash === text.length - 1
    ? `${JSON.stringify(text)} names no game as system/path`
    : { system: text.slice(0, slash), game: text.slice(slash + 1) };
}

/** Names a record of a card. */
export function placeKey({ path, at }: Spot, is: string): string {
  return `${path}\n${at}\n${is}`;
}

/** How a field of a record is shown to people. */
export function recordName(records: CompiledRecords, { at, field }: Spot, is: string): string {
  return `${at}[${records.by}=${is}] ${field}`;
}

/** Finds the places of records on one device's card. */
export class RecordPlaces {
  private readonly context: Context;
  private readonly locate: Locator;
  private readonly renames: Renames;

  constructor(context: Context, locate: Locator, renames: Renames) {
    this.context = context;
    this.locate = locate;
    this.renames = renames;
  }

  /** The place at one game or system; `item`: the name of the list. */
  spot(records: CompiledRecords, point: ScopePoint, item: string | undefined): Spot | Failure {
    const { file } = records;
    const { syntax } = file.written;
    if (file.written['generated-from'] !== undefined)
      return cannot(`the frontend makes ${file.id} anew from other files, so what is written there is lost`);
    const path = this.locate.filePath(file, this.locate.cardNames(point), point);
    if (typeof path !== 'string') return path;
    const names = this.names(point, item);
    const at = this.locate.keyText(records.at, syntax, names);
    if (typeof at !== 'string') return at;
    const is = this.text(records.is, point, item);
    if (typeof is !== 'string') return is;
    const system = records.system === undefined ? undefined : this.text(records.system.is, point, item);
    if (typeof system === 'object') return system;
    const field = records.field.render(names, (part) => escapeInKey(syntax, part));
    if (field.kind !== 'text')
      return cannot(field.kind === 'cannot' ? field.why : `{{${field.name}}} has no value here`);
    // A list has a field of its own, or its name stands in a field for all.
    const named = records.kind === 'lists' && !records.field.names.has('option.name');
    if (named && item === undefined) return cannot('the list has no name');
    return {
      path,
      at,
      is,
      system,
      field: field.text,
      on: named ? (item ?? '') : records.on,
      as: named ? 'string' : undefined,
    };
  }

  /** A template's text at one game or system. */
  text(template: Template, point: ScopePoint, item: string | undefined): string | Failure {
    const made = template.render(this.names(point, item), (part) => part);
    if (made.kind === 'text') return made.text;
    return cannot(made.kind === 'cannot' ? made.why : `{{${made.name}}} has no value here`);
  }

  private names(point: ScopePoint, item: string | undefined): NameLookup {
    const base = pointNames(this.context, this.renames, point, 'device');
    return (name) => (name === 'option.name' ? item : base(name));
  }
}
