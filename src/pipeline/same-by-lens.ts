import type { KeyLookup, Lens } from '../dialect/contract.ts';
import type { Subject } from '../4-plan/subject.ts';
import type { Compiled, Edit, KeyText } from '../model/compiled.ts';
import type { Decision } from '../model/resolved.ts';
import { sameText } from '../model/same-text.ts';
import { sameValue } from '../model/value.ts';

/** Whether two texts of a key mean the same. No edit: the profile sets the key no longer. */
export type SameText = (
  subject: Subject,
  edit: Edit | undefined,
  a: KeyText | undefined,
  b: KeyText | undefined,
) => boolean;

/**
 * Compares what the lens reads, not spellings: a program that writes `10000` as `10000.000` has changed nothing. The
 * other keys of the same setting are taken to say what the profile says, so that each key is judged by itself.
 */
export function sameByLens(compiled: Compiled, lenses: ReadonlyMap<string, Lens>): SameText {
  const siblings = new Map<Decision, Map<string, KeyText | undefined>>();
  for (const edit of compiled.edits) {
    if (edit.decision === undefined) continue;
    let keys = siblings.get(edit.decision);
    if (keys === undefined) siblings.set(edit.decision, (keys = new Map<string, KeyText | undefined>()));
    keys.set(keyOf(edit.path, edit.key), edit.value);
  }
  return (subject, edit, a, b) => {
    if (sameText(a, b)) return true;
    if (edit === undefined) return sameLetGo(lenses.get(subject.instance), subject, a, b);
    const { decision } = edit;
    const lens = lenses.get(edit.instance);
    // A record's field, a raw key and a key made from several settings are compared by their text.
    if (decision === undefined || lens === undefined || edit.record !== undefined || edit.rule.name === 'computed')
      return false;
    if (a === undefined || b === undefined) return false;
    const others = siblings.get(decision);
    const read = (text: KeyText): ReturnType<Lens['read']> => {
      const look: KeyLookup = (path, key) =>
        path === edit.path && key === edit.key ? text : others?.get(keyOf(path, key));
      return lens.read(edit.setting, edit.scope, look, decision.value, edit.item);
    };
    const left = read(a);
    if (left.kind !== 'value') return false;
    const right = read(b);
    return right.kind === 'value' && sameValue(left.value, right.value);
  };
}

/**
 * A key that no edit is for any more, by what its setting's codec reads there: at the key itself, or, where the setting has
 * another key now, at that one. A setting of several keys is not read by one of them, and stays with its text.
 */
function sameLetGo(lens: Lens | undefined, subject: Subject, a: KeyText | undefined, b: KeyText | undefined): boolean {
  if (lens === undefined || subject.record !== undefined || a === undefined || b === undefined) return false;
  const here = (path: string, key: string): boolean => path === subject.path && key === subject.key;
  return [here, () => true].some((holds) => {
    const read = (text: KeyText): ReturnType<Lens['read']> => {
      const look: KeyLookup = (path, key) => (holds(path, key) ? text : undefined);
      return lens.read(subject.setting, subject.scope, look, undefined, subject.item);
    };
    const [left, right] = [read(a), read(b)];
    return left.kind === 'value' && right.kind === 'value' && sameValue(left.value, right.value);
  });
}

function keyOf(path: string, key: string): string {
  return `${path}\n${key}`;
}
