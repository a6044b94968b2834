import type { CompiledRecords } from './compiled-dialect.ts';
import type { Context, KeyPaths, RecordLookup } from './contract.ts';
import { escapeInKey } from './key-escape.ts';
import type { RecordPlaces, Spot } from './record-places.ts';

const nameMark = '\u0003';

/**
 * The names of the lists that a card's records are in, in the order in which they are met: texts of a field for all
 * lists (`off` aside), or names of fields. A name that the dialect would write otherwise is passed over.
 */
export function listNames(
  records: CompiledRecords,
  places: RecordPlaces,
  context: Context,
  list: RecordLookup,
  keys: KeyPaths,
): readonly string[] {
  const found = new Set<string>();
  const seen = new Set<string>();
  const byField = !records.field.names.has('option.name');
  const { file, off } = records;
  // A system that no catalog has stands for those that share a file.
  for (const system of [...Object.keys(context.catalog?.systems ?? {}), nameMark]) {
    const spot = places.spot(records, { system, game: 'x' }, nameMark);
    if ('why' in spot || spot.path.includes(nameMark) || spot.at.includes(nameMark)) continue;
    const place = `${spot.path}\n${spot.at}\n${spot.field}`;
    if (seen.has(place)) continue;
    seen.add(place);
    if (byField)
      for (const { fields } of list(file.id, spot.path, spot.at, [spot.field])) {
        const name = fields.get(spot.field);
        if (name !== undefined && name !== '' && !(off.kind === 'text' && name === off.text)) found.add(name);
      }
    else {
      const pattern = patternOf(spot, file.written.syntax);
      for (const key of keys(file.id, spot.path)) {
        const part = pattern.exec(key)?.groups?.['name'];
        const name = part === undefined ? undefined : unescaped(part, file.written.syntax);
        if (name !== undefined && escapeInKey(file.written.syntax, name) === part) found.add(name);
      }
    }
  }
  return [...found];
}

type SyntaxName = CompiledRecords['file']['written']['syntax'];

/** Keys of the field in any record: JSON numbers records by a member of the path, the others in brackets. */
function patternOf({ at, field }: Spot, syntax: SyntaxName): RegExp {
  const marked = escapeInKey(syntax, nameMark);
  const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
  const name =
    syntax === 'toml' || syntax === 'yaml'
      ? '(?:(?<name>[A-Za-z0-9_-]+|"(?:[^"\\\\]|\\\\.)*"))'
      : '(?<name>[^/@[\\]]+)';
  const inside = field.split(marked).map(literal).join(name);
  const record = syntax === 'json' ? '/[0-9]+' : '(?:\\[[0-9]+\\])?';
  const joint = syntax === 'toml' || syntax === 'yaml' ? '\\.' : '/';
  return new RegExp(`^${literal(at)}${record}${joint}${inside}$`, 'u');
}

function unescaped(part: string, syntax: SyntaxName): string | undefined {
  if (syntax === 'json') return part.replaceAll('~1', '/').replaceAll('~0', '~');
  if (!part.startsWith('"')) return part;
  try {
    const text: unknown = JSON.parse(part);
    return typeof text === 'string' ? text : undefined;
  } catch {
    return undefined;
  }
}
