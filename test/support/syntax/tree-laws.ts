import { expect } from 'vitest';
import type fc from 'fast-check';
import type { Change, Syntax, SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { Plain, Step } from './edited-object.ts';
import { plainOf, withValueAt } from './edited-object.ts';

/** What the laws need to know about one tree-shaped syntax. */
export interface TreeSyntax {
  readonly syntax: Syntax;
  readonly texts: fc.Arbitrary<string>;
  readonly values: fc.Arbitrary<SyntaxValue>;
  readonly print: (steps: readonly Step[]) => string;
  readonly steps: (path: string) => readonly Step[];
  /** A second reader of the format, and what it makes of a value of ours. */
  readonly reader: (text: string) => unknown;
  readonly reads: (value: SyntaxValue) => Plain;
}

function parsed(syntax: Syntax, text: string): Tree {
  const { tree, findings } = syntax.parse({ name: 'text', text }, {});
  if (tree === undefined) throw new Error(`${syntax.name} refused: ${findings[0]?.detail} ${JSON.stringify(text)}`);
  return tree;
}

/** The text after one call, and whether every change was made. */
function afterChanges(
  syntax: Syntax,
  text: string,
  changes: readonly Change[],
): { text: string; refused: boolean; edits: number } {
  const { edits, results } = syntax.change(parsed(syntax, text), changes);
  return { text: applyEdits(text, edits), refused: results.some((r) => r.kind === 'refused'), edits: edits.length };
}

const values = (tree: Tree): Map<string, SyntaxValue | undefined> =>
  new Map(tree.keys().map((key) => [key.path, tree.get(key.path)]));
const comments = (text: string): string[] => text.match(/# note \d+!/g) ?? [];

/** Every key has a place, and one spelling. */
export function keysHavePlaces({ syntax }: TreeSyntax, text: string): void {
  const tree = parsed(syntax, text);
  expect(tree.source.text).toBe(text);
  for (const key of tree.keys()) {
    expect(syntax.badPath(key.path)).toBeUndefined();
    expect(tree.find(key.path)).toEqual(key);
    expect(tree.get(key.path)).toBeDefined();
    expect(key.span.start <= key.valueSpan.start && key.valueSpan.end <= key.span.end).toBe(true);
  }
}

/** PutGet, PutPut, GetPut; nothing else moves; the second reader sees exactly that change. */
export function setExisting(of: TreeSyntax, text: string, pick: number, value: SyntaxValue, other: SyntaxValue): void {
  const { syntax } = of;
  const tree = parsed(syntax, text);
  const keys = tree.keys();
  const key = keys[pick % Math.max(1, keys.length)];
  if (key === undefined) return;
  const current = tree.get(key.path);
  if (current === undefined) throw new Error('a listed key has no value');
  expect(afterChanges(syntax, text, [{ op: 'set', path: key.path, value: current }])).toEqual({
    text,
    refused: false,
    edits: 0,
  });
  const once = afterChanges(syntax, text, [{ op: 'set', path: key.path, value }]);
  if (once.refused) {
    expect(once.text).toBe(text);
    return;
  }
  const after = parsed(syntax, once.text);
  expect(after.get(key.path)?.kind).toBe(value.kind);
  // A list in a list that becomes one value can make the outer one a list of its own: ask for the keys known before.
  for (const { path } of keys) if (path !== key.path) expect(after.get(path), path).toEqual(tree.get(path));
  const isNew = (path: string): boolean => tree.find(path) === undefined && !key.path.startsWith(path) && path !== '.';
  expect(after.keys().filter(({ path }) => isNew(path))).toEqual([]);
  // A list's own comments, and that behind its last item, may go with items; all others stay.
  const inside =
    current.kind === 'scalar'
      ? []
      : comments(
          (/^[^\r\n]*/.exec(text.slice(key.valueSpan.end))?.[0] ?? '') +
            text.slice(key.valueSpan.start, key.valueSpan.end),
        );
  expect(comments(once.text)).toEqual(expect.arrayContaining(comments(text).filter((note) => !inside.includes(note))));
  // Equal by value: `0x1F` may have stayed where `0x1f` was asked for. The second reader below judges it too.
  expect(afterChanges(syntax, once.text, [{ op: 'set', path: key.path, value }]).edits).toBe(0);
  const last = afterChanges(syntax, text, [
    { op: 'set', path: key.path, value: other },
    { op: 'set', path: key.path, value },
  ]);
  expect(last.text).toBe(once.text);
  if (once.edits > 0) {
    const seen = withValueAt(plainOf(of.reader(text)), of.steps(key.path), of.reads(value));
    expect(plainOf(of.reader(once.text))).toEqual(seen);
  }
}

/** Insert, then remove, gives the first bytes. `names` go below the group that holds a picked key, or the root. */
export function insertAndRemove(
  of: TreeSyntax,
  text: string,
  pick: number,
  names: readonly string[],
  value: SyntaxValue,
): void {
  const { syntax } = of;
  const tree = parsed(syntax, text);
  const keys = tree.keys();
  const near = keys[pick % (keys.length + 1)];
  const above = near === undefined ? [] : of.steps(near.path).slice(0, -1);
  const path = of.print([...above, ...names]);
  // A key without a value that is given keys loses that spelling when they go.
  if (keys.some((key) => path.startsWith(`${key.path}.`)) || tree.get(path) !== undefined) return;
  const inserted = afterChanges(syntax, text, [{ op: 'set', path, value }]);
  if (inserted.refused) {
    expect(inserted.text).toBe(text);
    return;
  }
  const after = parsed(syntax, inserted.text);
  expect(after.get(path)).toEqual(value);
  const expected = values(tree);
  expected.set(path, value);
  expect(new Map(values(after))).toEqual(expected);
  expect(comments(inserted.text)).toEqual(comments(text));
  expect(plainOf(of.reader(inserted.text))).toEqual(
    withValueAt(plainOf(of.reader(text)), of.steps(path), of.reads(value)),
  );
  const back = afterChanges(syntax, inserted.text, [{ op: 'remove', path }]);
  expect(back.refused).toBe(false);
  // A group that stood empty goes with the last key that it is given: nothing tells it from one that we made.
  if (!isEmptyGroup(of, text, [...above, ...names.slice(0, -1)])) expect(back.text).toBe(text);
}

/** Whether a group stands there, a null included, without any key of its own. */
export function isEmptyGroup(of: TreeSyntax, text: string, steps: readonly Step[]): boolean {
  let at: Plain | undefined = plainOf(of.reader(text));
  for (let k = 0; k <= steps.length; k++) {
    if (at === null) return true;
    const step = steps[k];
    if (step === undefined || at === undefined) break;
    at =
      Array.isArray(at) && typeof step === 'number' ? at[step] : at instanceof Map ? at.get(String(step)) : undefined;
  }
  if (!(at instanceof Map) || steps.length === 0) return false;
  const own = (path: readonly Step[]): boolean =>
    path.length === steps.length + 1 && steps.every((step, k) => step === path[k]);
  return !parsed(of.syntax, text)
    .keys()
    .some((key) => own(of.steps(key.path)));
}

/** A removed key is gone, and nothing else. */
export function removeExisting(of: TreeSyntax, text: string, picks: readonly number[]): void {
  const { syntax } = of;
  const tree = parsed(syntax, text);
  const keys = tree.keys();
  const paths = [...new Set(picks.map((pick) => keys[pick % Math.max(1, keys.length)]?.path))].filter(
    (p) => p !== undefined,
  );
  const { edits, results } = syntax.change(
    tree,
    paths.map((path) => ({ op: 'remove', path })),
  );
  const gone = paths.filter((_, k) => results[k]?.kind === 'changed');
  const after = parsed(syntax, applyEdits(text, edits));
  // Items that go from a list move those behind them.
  if (gone.some((path) => typeof of.steps(path).at(-1) === 'number')) return;
  const expected = values(tree);
  for (const path of gone) expected.delete(path);
  const left = values(after);
  // A group that lost all its keys may stay, as an empty list never does.
  expect(left).toEqual(expected);
}

/** Several changes at once give what they give one after another. */
export function batchEqualsSequence(
  of: TreeSyntax,
  text: string,
  wishes: readonly { pick: number; names: readonly string[]; value: SyntaxValue | undefined }[],
): void {
  const { syntax } = of;
  const tree = parsed(syntax, text);
  const keys = tree.keys();
  const changes = wishes.map(({ pick, names, value }): Change => {
    const near = keys[pick % (keys.length + 1)];
    const above = near === undefined ? [] : of.steps(near.path).slice(0, -1);
    const path =
      names.length === 0 && near !== undefined
        ? near.path
        : of.print([...above, ...(names.length === 0 ? ['n'] : names)]);
    return value === undefined ? { op: 'remove', path } : { op: 'set', path, value };
  });
  if (new Set(changes.map((change) => change.path)).size < changes.length) return;
  // An index names another item once one before it has gone.
  if (changes.some((change) => change.op === 'remove' && typeof of.steps(change.path).at(-1) === 'number')) return;
  const { edits, results } = syntax.change(tree, changes);
  const made = changes.filter((_, k) => results[k]?.kind !== 'refused');
  const together = applyEdits(text, edits);
  let sequence = text;
  for (const change of made) {
    const step = afterChanges(syntax, sequence, [change]);
    if (step.refused) return;
    sequence = step.text;
  }
  expect(values(parsed(syntax, together)), together).toEqual(new Map(values(parsed(syntax, sequence))));
}

/** A record that is put is listed with its fields, all else stays; dropped again, the first bytes are back. */
export function putAndDropRecord(
  of: TreeSyntax,
  text: string,
  pick: number,
  name: string,
  is: string,
  value: SyntaxValue,
  siblings: 'start' | 'end' | 'sorted',
): void {
  const { syntax } = of;
  const { records } = syntax;
  if (records === undefined) throw new Error('no records');
  const tree = (source: string): Tree => {
    const { tree: read } = syntax.parse({ name: 'text', text: source }, { siblings });
    if (read === undefined) throw new Error(`unreadable: ${JSON.stringify(source)}`);
    return read;
  };
  const before = tree(text);
  const lists = [...new Set(before.keys().flatMap((key) => listsAbove(of, key.path)))];
  const at = lists[pick % (lists.length + 1)] ?? of.print([name]);
  const known = records.list(before, at, ['id']);
  if (known.some((place) => place.fields.get('id') === is)) return;
  const change = { op: 'put', by: 'id', is, fields: new Map([['fresh', value]]) } as const;
  const put = records.change(before, at, [change]);
  const putText = applyEdits(text, put.edits);
  if (put.results[0]?.kind === 'refused') {
    expect(putText).toBe(text);
    return;
  }
  const after = tree(putText);
  const now = records.list(after, at, ['id']);
  expect(now.length).toBe(known.length + 1);
  const index = now.findIndex((place) => place.fields.get('id') === is);
  expect(after.get(`${at === '.' ? '' : at}[${index}].fresh`)).toEqual(value);
  expect(comments(putText)).toEqual(comments(text));
  const read = withoutItem(plainOf(of.reader(putText)), of.steps(at), index);
  const wanted = plainOf(of.reader(text));
  expect(read).toEqual(known.length === 0 ? withValueAt(wanted, of.steps(at), []) : wanted);
  expect(applyEdits(putText, records.change(after, at, [change]).edits)).toBe(putText);
  const back = records.change(after, at, [{ op: 'drop', by: 'id', is }]);
  expect(back.results[0]?.kind).toBe('changed');
  const had = known.length > 0 || before.get(at) === undefined;
  if (had) expect(applyEdits(putText, back.edits)).toBe(text);
}

function listsAbove(of: TreeSyntax, path: string): string[] {
  const steps = of.steps(path);
  return steps.flatMap((step, k) => (typeof step === 'number' ? [k === 0 ? '.' : of.print(steps.slice(0, k))] : []));
}

function withoutItem(value: Plain, steps: readonly Step[], index: number): Plain {
  return withValueAt(value, [...steps, index], undefined);
}
