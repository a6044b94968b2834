import type { Path } from '../model/document.ts';
import type { DialectWritten } from '../vocabulary/shapes/dialect.ts';
import type { CompiledFile, CompiledRecords } from './compiled-dialect.ts';
import type { Faults } from './faults.ts';
import { keyNames, pathNames } from './template/names.ts';
import { parseTemplate } from './template/parse-template.ts';

/** What each kind of records says: the setting, the field that finds a record, and the field that is set. */
const kinds = {
  favourites: { setting: 'games.favourites', by: 'path', field: 'favourite' },
  hidden: { setting: 'games.hidden', by: 'path', field: 'hidden' },
  lists: { setting: 'games.lists', by: 'path', field: 'list' },
  'hidden-systems': { setting: 'menus.hidden-systems', by: 'system', field: 'hidden' },
} as const;

const kindNames = ['favourites', 'hidden', 'lists', 'hidden-systems'] as const;

/** The dialect's `records:` by setting. What is broken is left out, and has its finding. */
export function compileRecords(
  data: DialectWritten,
  faults: Faults,
  fileById: (id: string, path: Path, setting: string) => CompiledFile | undefined,
  placeOf: (path: Path) => CompiledRecords['place'],
): ReadonlyMap<string, CompiledRecords> {
  const made = new Map<string, CompiledRecords>();
  for (const name of kindNames) {
    const written = data.records?.[name];
    if (written === undefined) continue;
    const { setting, by, field } = kinds[name];
    const path: Path = ['records', name];
    const before = faults.findings.length;
    const file = fileById(written.file, [...path, 'file'], setting);
    if (data.settings[setting] !== undefined)
      faults.at(
        'bad-key-map',
        path,
        `${setting} is spelled under settings already, so it would be written twice.`,
        'Keep one of the two.',
        setting,
      );
    const allowed: readonly string[] = by === 'path' ? [by, field, 'system'] : [by, field];
    for (const own of Object.keys(written.fields)) {
      if (!allowed.includes(own))
        faults.at(
          'bad-key-map',
          [...path, 'fields', own],
          `Records of ${name} have no field ${JSON.stringify(own)}.`,
          `Use ${allowed.join(', ')}.`,
          setting,
        );
    }
    const finds = written.fields[by];
    const sets = written.fields[field];
    for (const [own, text] of [[by, finds] as const, [field, sets] as const]) {
      if (text === undefined)
        faults.at(
          'bad-key-map',
          [...path, 'fields'],
          own === by ? 'It does not say which field finds a record.' : 'It does not say which field is set.',
          `Add ${own}, with the field's path in the record.`,
          setting,
        );
    }
    const read = (at: Path, text: string, names: typeof keyNames): CompiledRecords['at'] | undefined => {
      const { value, findings } = parseTemplate(placeOf(at), text, names);
      faults.findings.push(...findings);
      return value;
    };
    const at = read([...path, 'at'], written.at, pathNames);
    const is = read(
      written.path === undefined ? path : [...path, 'path'],
      written.path ?? (by === 'path' ? '{{system.folder}}/{{game.path}}' : '{{system.id}}'),
      pathNames,
    );
    const target =
      sets === undefined ? undefined : read([...path, 'fields', field], sets, name === 'lists' ? keyNames : pathNames);
    if (
      faults.findings.length > before ||
      file === undefined ||
      finds === undefined ||
      at === undefined ||
      is === undefined ||
      target === undefined
    )
      continue;
    made.set(setting, {
      kind: name,
      place: placeOf(path),
      file,
      at,
      by: finds,
      is,
      field: target,
      system: by === 'path' ? written.fields['system'] : undefined,
      on: written.on ?? 'true',
    });
  }
  return made;
}
