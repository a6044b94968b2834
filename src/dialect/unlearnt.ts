import type { DialectDocument, Path } from '../model/document.ts';
import type { EntryWritten } from '../vocabulary/shapes/dialect.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { closedWords } from './closed-words.ts';
import type { CompiledWrite } from './compiled-dialect.ts';

/** Words of the setting for which a write has no spelling: 'not learnt'. */
export function unlearntWords(
  write: CompiledWrite,
  setting: SettingDefinition,
  document: DialectDocument,
): readonly string[] {
  const written = writtenAt(document, write.path);
  const { values, list, members, number } = written;
  if (values !== undefined && setting.type.kind !== 'bind')
    return closedWords(setting).filter((word) => !Object.hasOwn(values, word));
  if (list?.values !== undefined) {
    const spelled = list.values;
    return closedWords(setting).filter((word) => !Object.hasOwn(spelled, word));
  }
  if (members !== undefined) return closedWords(setting).filter((word) => !Object.hasOwn(members.keys, word));
  if (number !== undefined && setting.type.kind === 'quantity') {
    return (setting.type.words ?? []).filter(
      (word) => number.words === undefined || !Object.hasOwn(number.words, word),
    );
  }
  return [];
}

/** The entry or the member of its `writes` at a path below `settings`. */
function writtenAt(document: DialectDocument, path: Path): EntryWritten {
  let at: unknown = document.data;
  for (const name of path) {
    if (typeof at !== 'object' || at === null) return {};
    at = Object.entries(at).find(([key]) => key === String(name))?.[1];
  }
  return typeof at === 'object' && at !== null ? at : {};
}
