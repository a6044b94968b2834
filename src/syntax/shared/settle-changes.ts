import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Change, ChangeResult } from '../contract.ts';
import type { ParsedPath, PathStep } from './dotted-path.ts';

/** A change that counts: the last one for its path, colliding with none before it. */
export interface SettledChange {
  readonly change: Change;
  readonly steps: readonly PathStep[];
}

interface Branch {
  readonly children: Map<string, Branch>;
  /** Index of the change that ends here. */
  ends: number | undefined;
}

/**
 * Prepares the changes of one call. Malformed paths are refused; of several changes to one path the last counts,
 * and the others get its result; a change to a key and one to a key inside it cannot both be done: the later is refused.
 * `apply` is asked for each change that counts, in order.
 */
export function settleChanges(
  source: SourceText,
  changes: readonly Change[],
  read: (path: string) => ParsedPath,
  apply: (settled: SettledChange) => ChangeResult,
): readonly ChangeResult[] {
  const parsed = changes.map((change) => read(change.path));
  const keys = parsed.map((path) => (path.kind === 'path' ? JSON.stringify(path.steps) : undefined));
  const lastOf = new Map<string, number>();
  keys.forEach((key, index) => key !== undefined && lastOf.set(key, index));
  const results = new Map<number, ChangeResult>();
  const root: Branch = { children: new Map(), ends: undefined };
  changes.forEach((change, index) => {
    const path = parsed[index];
    if (path === undefined) return;
    if (path.kind === 'bad') results.set(index, refused(malformedPath(source, change.path, path.why)));
    else if (lastOf.get(keys[index] ?? '') !== index) return;
    else if (collides(root, path.steps, index)) results.set(index, refused(collision(source, change.path)));
    else results.set(index, apply({ change, steps: path.steps }));
  });
  return changes.map((_, index) => {
    const last = lastOf.get(keys[index] ?? '') ?? index;
    return results.get(last) ?? results.get(index) ?? { kind: 'unchanged' };
  });
}

function collides(root: Branch, steps: readonly PathStep[], index: number): boolean {
  let at = root;
  for (const step of steps) {
    if (at.ends !== undefined) return true;
    const name = JSON.stringify(step);
    let next = at.children.get(name);
    if (next === undefined) at.children.set(name, (next = { children: new Map(), ends: undefined }));
    at = next;
  }
  if (at.children.size > 0) return true;
  at.ends = index;
  return false;
}

export const refused = (finding: Finding): ChangeResult => ({ kind: 'refused', finding });

function malformedPath(source: SourceText, path: string, why: string): Finding {
  return makeFinding('bad-key-path', {
    detail: `The key path ${JSON.stringify(path)} cannot be read. ${why}`,
    wayOut: 'Write names joined by dots, odd names in double quotes, items as [0]: screen."odd name".sizes[0].',
    place: { source, span: { start: 0, end: 0 } },
  });
}

function collision(source: SourceText, path: string): Finding {
  return makeFinding('changes-collide', {
    detail: `${JSON.stringify(path)} is to be changed together with a key that holds it, or that it holds.`,
    wayOut: 'Keep only one of the two keys.',
    place: { source, span: { start: 0, end: 0 } },
  });
}
