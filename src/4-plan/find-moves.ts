import type { Subject } from './subject.ts';
import { keyId, settingId } from './subject.ts';

/** The name that an update gives to a key: its new path and key, or undefined where it is renamed to nothing new. */
export type Renamed = (subject: Subject) => { readonly path: string; readonly key: string };

/**
 * Which recorded key each new one is the successor of: by the renames that the dialect lists, else by setting, item and
 * scope on one instance (raw keys only by renames). Of several, those with one key's name, then of one file, then in
 * order. Both lists hold only what the other side does not name.
 */
export function findMoves<E extends Subject, R extends Subject>(
  edits: readonly E[],
  recorded: readonly R[],
  renamed: Renamed,
): ReadonlyMap<E, R> {
  const moves = new Map<E, R>();
  const gone = new Set<R>();
  const byId = new Map(edits.map((edit) => [keyId(edit), edit]));
  for (const old of recorded) {
    const { path, key } = renamed(old);
    const edit = byId.get(`${path}\n${key}`);
    if (old.record !== undefined || edit === undefined || edit.record !== undefined || moves.has(edit)) continue;
    if (settingId(edit) !== settingId(old)) continue;
    moves.set(edit, old);
    gone.add(old);
  }
  const groups = new Map<string, R[]>();
  for (const old of recorded) {
    if (gone.has(old) || old.setting === 'extra') continue;
    const id = settingId(old);
    const group = groups.get(id);
    if (group === undefined) groups.set(id, [old]);
    else group.push(old);
  }
  const likeness: readonly ((edit: E, old: R) => boolean)[] = [
    (edit, old) => edit.key === old.key,
    (edit, old) => edit.path === old.path,
    () => true,
  ];
  for (const alike of likeness) {
    for (const edit of edits) {
      if (moves.has(edit)) continue;
      const group = groups.get(settingId(edit));
      const at = group?.findIndex((old) => alike(edit, old)) ?? -1;
      const [old] = at < 0 ? [] : (group?.splice(at, 1) ?? []);
      if (old !== undefined) moves.set(edit, old);
    }
  }
  return moves;
}
