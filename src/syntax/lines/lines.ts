import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { ChangeResult, Changed, Change, Syntax, SyntaxValue, Tree } from '../contract.ts';
import { badPath as badPathFinding, cannotCarry, endOf } from '../shared/keyed-refusals.ts';
import { LinePlan } from '../shared/line-plan.ts';
import { afterLineEnd, firstLine } from '../shared/physical-lines.ts';
import { LinesTree, readLines } from './lines-tree.ts';

/**
 * An ordered set of lines. A key path is the line's whole text, blanks too; it holds the text `present`, and `get` gives
 * nothing for a line that is not there. With the style's `separator`, a key path is what stands before the first of them,
 * and the key holds what stands behind it, blanks too. Lines of blanks alone and comments are kept and are no keys.
 * Style heeded: `comment` (default `#`), `siblings` (where a new line goes: `end`, `start`, `sorted`), `duplicates` (with
 * `error`, a line that comes twice; with a separator also which one counts, `last` by default), `lineEnd`. A new line goes after a commented-out one of the same text, if there is one.
 */
export const lines: Syntax = {
  name: 'lines',
  parse(source, style) {
    const tree = readLines(source, style);
    const [first] = style.duplicates === 'error' ? tree.repeated : [];
    if (first === undefined) return { tree, findings: [] };
    const finding = makeFinding('key-given-twice', {
      detail: 'This line stands here a second time, and the program that owns this file refuses that.',
      wayOut: 'Take out one of the two lines by hand.',
      place: { source, span: { start: first.start, end: first.stop } },
    });
    return { tree: undefined, findings: [finding] };
  },
  change: (tree, changes) => changeLines(ownTree(tree), changes),
  badPath,
  escape: (value) => value,
};

function badPath(path: string): string | undefined {
  if (/[\r\n]/.test(path)) return 'It holds a line end.';
  return path.trim() === '' ? 'It is empty.' : undefined;
}

function ownTree(tree: Tree): LinesTree {
  if (tree instanceof LinesTree) return tree;
  throw new Error('A tree of another syntax was given to lines. This is a bug in thumbwright.');
}

function changeLines(tree: LinesTree, changes: readonly Change[]): Changed {
  const { source, style } = tree;
  const plan = new LinePlan(source.text, style.lineEnd);
  const last = new Map(changes.map((change, index) => [change.path, index]));
  const results: ChangeResult[] = [];
  const added: string[] = [];
  changes.forEach((change, index) => {
    if (last.get(change.path) === index) results[index] = applyOne(tree, change, plan, added);
  });
  addLines(tree, added, plan);
  const settled = changes.map(({ path }, index) => results[index] ?? results[last.get(path) ?? -1]);
  return { edits: plan.finish(), results: settled.map((result) => result ?? { kind: 'unchanged' }) };
}

function applyOne(tree: LinesTree, { path, ...change }: Change, plan: LinePlan, added: string[]): ChangeResult {
  const { source } = tree;
  const why = badPath(path) ?? (tree.isComment(path) ? 'In this file a line that begins so is a comment.' : undefined);
  if (why !== undefined) return badPathFinding(source, path, why);
  const line = tree.line(path);
  if (change.op === 'remove') {
    if (line === undefined) return { kind: 'unchanged' };
    for (const { start, stop } of tree.all(path)) plan.cut({ start, end: afterLineEnd(source.text, stop) });
    return { kind: 'changed' };
  }
  const { separator } = tree;
  if (separator !== undefined) return setBehind(tree, path, separator, change.value, plan, added);
  if (change.value.kind !== 'scalar' || change.value.text !== 'present') {
    const span = line === undefined ? endOf(source) : { start: line.start, end: line.stop };
    return cannotCarry(source, path, 'A line is there or not: it can be set to `present`, or removed.', span);
  }
  if (line !== undefined) return { kind: 'unchanged' };
  added.push(path);
  return { kind: 'changed' };
}

/** Sets what stands behind the separator. */
function setBehind(
  tree: LinesTree,
  path: string,
  separator: string,
  value: SyntaxValue,
  plan: LinePlan,
  added: string[],
): ChangeResult {
  const { source } = tree;
  if (path.includes(separator))
    return badPathFinding(source, path, `It holds ${JSON.stringify(separator)}, which ends a key in this file.`);
  const line = tree.line(path);
  const span = line === undefined ? endOf(source) : { start: line.start, end: line.stop };
  if (value.kind !== 'scalar') return cannotCarry(source, path, 'A line of this file cannot hold a list.', span);
  if (/[\r\n]/.test(value.text)) return cannotCarry(source, path, 'It holds a line end.', span);
  if (line === undefined) added.push(`${path}${separator}${value.text}`);
  else if (tree.valueOf(line) === value.text) return { kind: 'unchanged' };
  else if (line.text === line.key)
    plan.replace({ span: { start: line.stop, end: line.stop }, text: `${separator}${value.text}` });
  else
    plan.replace({
      span: { start: line.start + line.key.length + separator.length, end: line.stop },
      text: value.text,
    });
  return { kind: 'changed' };
}

/** Puts new lines by the style's rule; several in the order asked, sorted ones sorted. */
function addLines(tree: LinesTree, added: readonly string[], plan: LinePlan): void {
  const { source, style, lines: present } = tree;
  const { text } = source;
  const examples = added.length > 0 ? tree.examples() : new Map<string, number>();
  const rest = added.filter((path) => {
    const at = examples.get(path);
    if (at !== undefined) plan.insert(at, [path]);
    return at === undefined;
  });
  const first = present[0]?.start ?? firstLine(text);
  const end = present.length === 0 ? text.length : afterLineEnd(text, present.at(-1)?.stop ?? text.length);
  if (rest.length === 0) return;
  if (style.siblings !== 'sorted') {
    plan.insert(style.siblings === 'start' && present.length > 0 ? first : end, rest);
    return;
  }
  // The first line that sorts after the new one; both lists are walked once when the file is sorted, as it should be.
  const sorted = [...rest].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  let at = 0;
  for (const path of sorted) {
    while (at < present.length && (present[at]?.text ?? '') < path) at += 1;
    plan.insert(present[at]?.start ?? end, [path]);
  }
}
