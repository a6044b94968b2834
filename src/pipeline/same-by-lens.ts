import type { KeyLookup, Lens } from '../dialect/contract.ts';
import type { Compiled, Edit, KeyText } from '../model/compiled.ts';
import type { Decision } from '../model/resolved.ts';
import { sameText } from '../model/same-text.ts';
import { sameValue } from '../model/value.ts';

/** Whether two texts of a key mean the same. */
export type SameText = (edit: Edit, a: KeyText | undefined, b: KeyText | undefined) => boolean;

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
  return (edit, a, b) => {
    if (sameText(a, b)) return true;
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

function keyOf(path: string, key: string): string {
  return `${path}\n${key}`;
}
