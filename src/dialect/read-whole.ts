import type { Value } from '../model/value.ts';
import type { KeyLookup, ReadBack, WholeSpelling } from './contract.ts';

/**
 * A setting that is said in files made whole, read back: `made` is what its current value makes. Each is looked up under
 * the empty key: the text that stands there.
 */
export function readWhole(current: Value, made: readonly WholeSpelling[], look: KeyLookup): ReadBack {
  const keys: { file: string; key: string; text: string }[] = [];
  let there = 0;
  for (const { file, made: one } of made) {
    if (one.kind !== 'text') return { kind: 'absent' };
    const held = look(one.path, '');
    if (held === undefined) continue;
    there += 1;
    if (held.kind !== 'scalar' || held.text !== one.text) keys.push({ file, key: '', text: '' });
  }
  if (keys.length > 0) return { kind: 'unreadable', keys };
  if (there === 0) return { kind: 'absent' };
  const [first] = made;
  return there === made.length || first === undefined
    ? { kind: 'value', value: current }
    : { kind: 'half-changed', keys: [{ file: first.file, key: '' }] };
}
