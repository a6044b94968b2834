import type { Path } from '../model/document.ts';
import type { DialectWritten, RecordsWritten } from '../vocabulary/shapes/dialect.ts';
import type { CompiledFile, CompiledRecords, RecordOff } from './compiled-dialect.ts';
import type { Faults } from './faults.ts';
import { badRange } from './frontend-version.ts';
import { keyNames, pathNames } from './template/names.ts';
import { parseTemplate } from './template/parse-template.ts';
import type { Template } from './template/template.ts';

/** What each kind of records says: the setting, the field that finds a record, and the field that is set. */
const kinds = {
  favourites: { setting: 'games.favourites', by: 'path', field: 'favourite' },
  hidden: { setting: 'games.hidden', by: 'path', field: 'hidden' },
  lists: { setting: 'games.lists', by: 'path', field: 'list' },
  'hidden-systems': { setting: 'menus.hidden-systems', by: 'system', field: 'hidden' },
} as const;

const kindNames = ['favourites', 'hidden', 'lists', 'hidden-systems'] as const;
type KindName = (typeof kindNames)[number];

/** Where the dialect is read from: its files, and the places of its members. */
export interface RecordSource {
  readonly faults: Faults;
  readonly fileById: (id: string, path: Path, setting: string) => CompiledFile | undefined;
  readonly placeOf: (path: Path) => CompiledRecords['place'];
}

/** The dialect's `records:` by setting. What is broken is left out, and has its finding. */
export function compileRecords(
  data: DialectWritten,
  source: RecordSource,
): ReadonlyMap<string, readonly CompiledRecords[]> {
  const made = new Map<string, readonly CompiledRecords[]>();
  for (const name of kindNames) {
    const written = data.records?.[name];
    if (written === undefined) continue;
    const { setting } = kinds[name];
    if (data.settings[setting] !== undefined)
      source.faults.at(
        'bad-records',
        ['records', name],
        `${setting} is spelled under settings already, so it would be written twice.`,
        'Keep one of the two.',
        setting,
      );
    const list: readonly RecordsWritten[] = isList(written) ? written : [written];
    made.set(
      setting,
      list.flatMap((one, at) =>
        compileOne(name, one, isList(written) ? ['records', name, at] : ['records', name], source),
      ),
    );
  }
  return made;
}

function isList(written: RecordsWritten | readonly RecordsWritten[]): written is readonly RecordsWritten[] {
  return Array.isArray(written);
}

function compileOne(
  name: KindName,
  written: RecordsWritten,
  path: Path,
  { faults, fileById, placeOf }: RecordSource,
): readonly CompiledRecords[] {
  const { setting, by, field } = kinds[name];
  const before = faults.findings.length;
  const fault = (at: Path, detail: string, wayOut: string): void =>
    faults.at('bad-records', at, detail, wayOut, setting);
  const bad = written.versions === undefined ? undefined : badRange(written.versions);
  if (bad !== undefined)
    faults.at(
      'bad-version-range',
      [...path, 'versions'],
      `${JSON.stringify(written.versions)} cannot be read: ${bad}.`,
      'Write it as in versions: ">=2.1 <3".',
      setting,
    );
  const file = fileById(written.file, [...path, 'file'], setting);
  const allowed: readonly string[] = by === 'path' ? [by, field, 'system'] : [by, field];
  for (const own of Object.keys(written.fields)) {
    if (!allowed.includes(own))
      fault(
        [...path, 'fields', own],
        `Records of ${name} have no field ${JSON.stringify(own)}.`,
        `Use ${allowed.join(', ')}.`,
      );
  }
  const finds = written.fields[by];
  const sets = written.fields[field];
  for (const own of [by, field])
    if (written.fields[own] === undefined)
      fault(
        [...path, 'fields'],
        own === by ? 'It does not say which field finds a record.' : 'It does not say which field is set.',
        `Add ${own}, with the field's path in the record.`,
      );
  const template = (at: Path, text: string, names = pathNames): Template | undefined => {
    const { value, findings } = parseTemplate(placeOf(at), text, names);
    faults.findings.push(...findings);
    return value;
  };
  const at = template([...path, 'at'], written.at);
  const systemIs = template(
    written.system === undefined ? path : [...path, 'system'],
    written.system ?? '{{system.id}}',
  );
  const is =
    by === 'system'
      ? systemIs
      : template(
          written.path === undefined ? path : [...path, 'path'],
          written.path ?? '{{system.folder}}/{{game.path}}',
        );
  const target =
    sets === undefined
      ? undefined
      : template([...path, 'fields', field], sets, name === 'lists' ? keyNames : pathNames);
  const fresh: { field: string; is: Template }[] = [];
  for (const [own, text] of Object.entries(written.new ?? {})) {
    const made = template([...path, 'new', own], text);
    if (made !== undefined) fresh.push({ field: own, is: made });
  }
  if (
    faults.findings.length > before ||
    file === undefined ||
    finds === undefined ||
    at === undefined ||
    is === undefined ||
    systemIs === undefined ||
    target === undefined
  )
    return [];
  const systemField = by === 'path' ? written.fields['system'] : undefined;
  const records: CompiledRecords = {
    kind: name,
    origin: path,
    place: placeOf(path),
    versions: written.versions,
    file,
    at,
    by: finds,
    is,
    field: target,
    system: systemField === undefined ? undefined : { field: systemField, is: systemIs },
    on: written.on ?? 'true',
    off: offOf(written),
    fresh,
  };
  checkSense(records, written, fault);
  return faults.findings.length > before ? [] : [records];
}

function offOf(written: RecordsWritten): RecordOff {
  if (written.remove === true) return { kind: 'record-out' };
  return written.off === undefined ? { kind: 'field-out' } : { kind: 'text', text: written.off };
}

/** What is well formed and cannot work: a record must tell its game, and on must differ from off. */
function checkSense(
  { kind, origin, file, at, is, field, system }: CompiledRecords,
  written: RecordsWritten,
  fault: (at: Path, detail: string, wayOut: string) => void,
): void {
  const [file_, at_, is_] = [file.path, at, is].map(({ names }) => [...names]);
  const where = [...(file_ ?? []), ...(at_ ?? [])];
  const narrow = where.find((name) => name.startsWith('core.') || name.startsWith('game.'));
  if (narrow !== undefined)
    fault(
      [...origin, 'file'],
      `Its records would stand in another place for each ${narrow.startsWith('core.') ? 'core' : 'game'}: {{${narrow}}} is in the path.`,
      'Name a file and an element that all games, or all games of a system, share.',
    );
  if (kind === 'hidden-systems') {
    if (!is.names.has('system.id') && !is.names.has('system.folder') && !is.names.has('system.name'))
      fault([...origin, 'system'], 'What it writes is the same for all systems.', 'Put {{system.id}} into it.');
  } else {
    if (!['game.path', 'game.name', 'game.stem'].some((name) => is.names.has(name)))
      fault([...origin, 'path'], 'What it writes is the same for all games.', 'Put {{game.path}} into it.');
    const told = [...where, ...(is_ ?? []), ...(system?.is.names ?? [])];
    if (!told.some((name) => name.startsWith('system.')))
      fault(
        [...origin, 'path'],
        'Games of one name in two systems would be one record: nothing tells the system.',
        'Put {{system.folder}} into path or into the path of the file, or add the field system.',
      );
  }
  if (written.remove === true && written.off !== undefined)
    fault([...origin, 'off'], 'It has a spelling of off, and removes the record as well.', 'Keep off or remove.');
  if (kind === 'lists' && !field.names.has('option.name')) {
    if (written.on !== undefined)
      fault(
        [...origin, 'on'],
        'The field holds the name of the list, so that on is never written.',
        'Remove on, or put {{option.name}} into the field, as in list: "lists/{{option.name}}".',
      );
  } else if (written.off !== undefined && written.off === (written.on ?? 'true'))
    fault([...origin, 'off'], 'On and off have one spelling.', 'Give off a spelling of its own, or remove it.');
}
