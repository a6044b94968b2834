import type { PlannedFile, PlannedKey, SaveRisk } from '../model/plan.ts';

/** Settings that say where saves and states lie, or which core has to read them. */
const moving: ReadonlyMap<string, string> = new Map([
  ['saves.save-folder', 'saves made so far lie in another folder, and games will start without them'],
  ['saves.state-folder', 'states made so far lie in another folder, and will not be offered'],
  ['saves.layout', 'saves made so far are named or sorted otherwise, and games will start without them'],
  ['cores.choice', 'another core may not read the states made so far, and some cores not the saves'],
]);

/** Writes that could orphan a save or state, or make it unreadable. What stood there must be known to be another value. */
export function saveRisks(files: readonly PlannedFile[]): readonly SaveRisk[] {
  const found = new Map<string, SaveRisk>();
  for (const key of files.flatMap((file) => file.keys)) {
    const what = moving.get(key.setting);
    if (what === undefined || key.act !== 'write' || key.from.kind === 'absent') continue;
    const id = JSON.stringify([key.instance, key.setting, key.scope, key.item]);
    if (!found.has(id)) found.set(id, risk(key, what));
  }
  return [...found.values()];
}

function risk(key: PlannedKey, what: string): SaveRisk {
  return {
    setting: key.setting,
    instance: key.instance,
    what,
    ...(key.origin === undefined ? {} : { origin: key.origin }),
  };
}
