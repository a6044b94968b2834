import type { KeyWrite, Lens, RecordLookup } from '../dialect/contract.ts';
import type { Compiled, Edit, RecordTarget } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';

/** A field of a record that was taken from a game before, and is to stay so: of one setting of one instance. */
export interface TakenRecord {
  readonly instance: string;
  readonly setting: string;
  readonly item?: string;
  readonly path: CardPath;
  readonly record?: RecordTarget;
}

/**
 * What takes favourites, lists and hidden games and systems from those that the profile does not list: with the edits
 * of the compiled profile, they make a list the whole list. `list`: the records that stand in an instance's files.
 *
 * `owned` (where a card's record is known): fields that are ours on the card. Of a setting that is among them all else
 * that is marked was marked since, by hand or in play (`byHand`). Each owned field that is not listed is told again, on
 * or off, so that it stays ours. `writtenEmpty`: whether a list was written empty, with no field to own; what is marked
 * in it was marked since, too.
 */
export function unlistedEdits(
  compiled: Compiled,
  lenses: ReadonlyMap<string, Lens>,
  list: (instance: string) => RecordLookup,
  owned: readonly TakenRecord[] = [],
  writtenEmpty: (instance: string, setting: string, item: string | undefined) => boolean = () => false,
): readonly Edit[] {
  const put = new Set(compiled.edits.map(nameOf));
  const edits: Edit[] = [];
  for (const { setting, item, instance, scope, fidelity, decision } of compiled.fidelity) {
    const lens = lenses.get(instance);
    const narrow = scope.core !== undefined || scope.system !== undefined || scope.game !== undefined;
    if (lens === undefined || narrow || fidelity.kind === 'cannot') continue;
    const ours = owned.filter((one) => one.instance === instance && one.setting === setting && one.item === item);
    const written = ours.length > 0 || writtenEmpty(instance, setting, item);
    const names = new Set(ours.map(nameOf));
    const known = ours.length === 0 ? list(instance) : withOwned(list(instance), ours);
    const writes = lens.unlisted(setting, decision.value, known, item, (write) => names.has(nameOf(write)));
    for (const write of writes) {
      const name = nameOf(write);
      // A game that another list takes over, in the same field, has its text from there.
      if (put.has(name)) continue;
      put.add(name);
      const edit = editOf(write, { setting, item, instance, scope, decision });
      edits.push(written && !names.has(name) ? { ...edit, byHand: true } : edit);
    }
  }
  return edits;
}

function editOf(
  write: KeyWrite,
  of: Pick<Compiled['fidelity'][number], 'setting' | 'instance' | 'scope' | 'decision'> & { item: string | undefined },
): Edit {
  return {
    instance: of.instance,
    file: write.file,
    path: write.path,
    key: write.key,
    value: write.value,
    ...(write.record === undefined ? {} : { record: write.record }),
    setting: of.setting,
    ...(of.item === undefined ? {} : { item: of.item }),
    scope: of.scope,
    origin: of.decision.origin,
    decision: of.decision,
    dialectPlace: write.dialectPlace,
    rule: write.rule,
  };
}

function nameOf({ path, record }: { readonly path: CardPath; readonly record?: RecordTarget }): string {
  return record === undefined ? '' : JSON.stringify([path, record.at, record.by, record.is, record.field]);
}

/** What stands, and records that are ours and are gone: they are to be told as well. */
function withOwned(list: RecordLookup, owned: readonly TakenRecord[]): RecordLookup {
  return (file, path, at, fields) => {
    const standing = list(file, path, at, fields);
    const gone = owned.flatMap(({ path: own, record }) => {
      if (own !== path || record?.at !== at || standing.some((one) => one.fields.get(record.by) === record.is))
        return [];
      const texts = new Map([[record.by, record.is]]);
      for (const [field, value] of record.identity) if (value.kind === 'scalar') texts.set(field, value.text);
      return [{ span: { start: 0, end: 0 }, fields: texts, places: new Map() }];
    });
    return gone.length === 0 ? standing : [...standing, ...gone];
  };
}
