import type { LoadedDialect } from '../1-load/load-dialect.ts';
import { settingId } from '../4-plan/subject.ts';
import type { OldKey } from '../4-plan/file-task.ts';
import type { MergeInput } from '../4-plan/merge-keys.ts';
import type { KeyLookup, Lens, Spelled } from '../dialect/contract.ts';
import { satisfiesVersions } from '../dialect/frontend-version.ts';
import { makeLens } from '../dialect/make-lens.ts';
import { renamesBetween } from '../dialect/moved.ts';
import type { Renames } from '../dialect/moved.ts';
import type { KeyText } from '../model/compiled.ts';
import type { CardRecord } from '../model/record.ts';
import type { Resolved } from '../model/resolved.ts';
import { syntaxes } from '../syntax/registry.ts';
import { contextOf } from './lens-context.ts';

interface Update {
  readonly then: Lens;
  readonly now: Lens;
  readonly renames: Renames;
}

/**
 * Reads recorded texts as the frontend's version of then meant them, and spells them as that of now does. Only the one
 * dialect at hand tells: what an older version of it spelled otherwise stays as it is.
 */
export function renewTexts(
  resolved: Resolved,
  dialects: ReadonlyMap<string, LoadedDialect>,
  lenses: ReadonlyMap<string, Lens>,
  record: CardRecord | undefined,
  versions: ReadonlyMap<string, string | undefined>,
): MergeInput['renewed'] {
  const updates = new Map<string, Update>();
  for (const instance of resolved.instances) {
    const { name, dialect } = instance;
    const recorded = record?.instances.get(name);
    const [from, to] = [recorded?.version, versions.get(name) ?? instance.version];
    const [loaded, now] = [dialects.get(name), lenses.get(name)];
    if (from === undefined || to === undefined || from === to || loaded === undefined || now === undefined) continue;
    if (recorded?.dialect !== dialect.data.dialect || !satisfiesVersions(from, dialect.data['for-versions'])) continue;
    const then = makeLens({ ...contextOf(resolved, instance, loaded), version: from }, syntaxes).value;
    updates.set(name, { then, now, renames: renamesBetween(dialect, from, to) });
  }
  const written = writtenBySetting(record);
  return (old, text) => {
    const update = updates.get(old.instance);
    if (update === undefined || old.record !== undefined || old.setting === 'extra') return { text, here: true };
    return (
      byLens(update, old, text, written.get(settingId(old))) ?? { text: byTable(update.renames, old, text), here: true }
    );
  };
}

function writtenBySetting(record: CardRecord | undefined): ReadonlyMap<string, ReadonlyMap<string, KeyText>> {
  const settings = new Map<string, Map<string, KeyText>>();
  for (const { path, keys } of record?.files ?? [])
    for (const key of keys) {
      if (key.record !== undefined || key.written.kind !== 'text') continue;
      const id = settingId(key);
      let texts = settings.get(id);
      if (texts === undefined) settings.set(id, (texts = new Map<string, KeyText>()));
      texts.set(`${path}\n${key.key}`, key.written.value);
    }
  return settings;
}

/** The other keys of the setting are taken to hold what we wrote. Undefined: it is not read as a value, or not said now. */
function byLens(
  { then, now }: Update,
  old: OldKey,
  text: KeyText,
  others: ReadonlyMap<string, KeyText> | undefined,
): ReturnType<MergeInput['renewed']> | undefined {
  const look: KeyLookup = (path, key) => (path === old.path && key === old.key ? text : others?.get(`${path}\n${key}`));
  const read = then.read(old.setting, old.scope, look, undefined, old.item);
  if (read.kind !== 'value') return undefined;
  const [was, is] = [then, now].map((lens) => writesOf(lens.spell(old.setting, read.value, old.scope, old.item)));
  const at = was?.findIndex(({ path, key }) => path === old.path && key === old.key) ?? -1;
  const write = was?.length === is?.length ? is?.[at] : undefined;
  if (write?.value === undefined) return undefined;
  return { text: write.value, here: write.path === old.path && write.key === old.key };
}

function writesOf(spelled: Spelled): Extract<Spelled, { kind: 'exact' }>['writes'] {
  return spelled.kind === 'cannot' ? [] : spelled.writes;
}

function byTable(renames: Renames, { setting }: OldKey, text: KeyText): KeyText {
  const name = (one: string): string => renames.value(setting, one);
  return text.kind === 'scalar'
    ? { ...text, text: name(text.text) }
    : { ...text, items: text.items.map((item) => ({ ...item, text: name(item.text) })) };
}
