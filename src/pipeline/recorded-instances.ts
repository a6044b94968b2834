import { listName } from '../model/list-name.ts';
import type { Compiled } from '../model/compiled.ts';
import type { CardRecord, RecordedFile, RecordedInstance } from '../model/record.ts';

/**
 * What a card's record says of the frontends, once `compiled` is written to it. `versions`: those on the card;
 * `files`: what we own then; `last`: the record before.
 */
export function recordedInstances(
  compiled: Compiled,
  versions: ReadonlyMap<string, string | undefined>,
  files: readonly RecordedFile[],
  last: CardRecord | undefined,
): ReadonlyMap<string, RecordedInstance> {
  const keys = files.flatMap((file) => file.keys);
  return new Map(
    compiled.resolved.instances.map(({ name, dialect }) => {
      const { data } = dialect;
      const emptyLists = compiled.fidelity.flatMap(({ instance, setting, item, scope, fidelity, decision }) => {
        if (instance !== name || fidelity.kind === 'cannot' || Object.values(scope).some((one) => one !== undefined))
          return [];
        if (decision.value.kind !== 'texts' || decision.value.texts.length > 0) return [];
        if (!Object.hasOwn(data.records ?? {}, setting.replace(/^.*\./, ''))) return [];
        const told = keys.some((key) => key.instance === name && key.setting === setting && key.item === item);
        return told ? [] : [listName(setting, item)];
      });
      return [
        name,
        {
          dialect: data.dialect,
          dialectVersion: data.version,
          version: versions.get(name) ?? last?.instances.get(name)?.version,
          ...(emptyLists.length === 0 ? {} : { emptyLists: emptyLists.sort() }),
        },
      ];
    }),
  );
}
