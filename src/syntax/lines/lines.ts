import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Span } from '../../text/span.ts';
import type { Change, Changed, ChangeResult, KeyPlace, Style, Syntax, SyntaxValue, Tree } from '../contract.ts';
import { LinePlan } from '../shared/line-plan.ts';

/** What a line that is there holds. */
const present: SyntaxValue = { kind: 'scalar', text: 'present' };

interface Entry {
  readonly text: string;
  readonly span: Span;
  readonly start: number;
  readonly next: number;
}

class LinesTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly entries: readonly Entry[];
  readonly byText = new Map<string, Entry[]>();

  constructor(source: SourceText, style: Style) {
    this.source = source;
    this.style = style;
    const comments = style.comment === undefined ? ['#'] : typeof style.comment === 'string' ? [style.comment] : style.comment;
    const { text } = source;
    const entries: Entry[] = [];
    const pattern = /([^\r\n]*)(\r\n|\n|\r|$)/g;
    pattern.lastIndex = text.startsWith('\ufeff') ? 1 : 0;
    for (let match = pattern.exec(text); match !== null && match[0] !== ''; match = pattern.exec(text)) {
      const line = match[1] ?? '';
      const body = line.trim();
      if (body === '' || comments.some((comment) => comment !== '' && body.startsWith(comment))) continue;
      const start = match.index + line.indexOf(body);
      const entry = { text: body, span: { start, end: start + body.length }, start: match.index, next: match.index + match[0].length };
      entries.push(entry);
      const known = this.byText.get(body);
      if (known === undefined) this.byText.set(body, [entry]);
      else known.push(entry);
    }
    this.entries = entries;
  }

  keys(): readonly KeyPlace[] {
    return [...this.byText.values()].flatMap(([first]) => (first === undefined ? [] : [placeOf(first)])).sort((a, b) => a.span.start - b.span.start);
  }

  get(path: string): SyntaxValue | undefined {
    return this.byText.has(path) ? present : undefined;
  }

  find(path: string): KeyPlace | undefined {
    const [first] = this.byText.get(path) ?? [];
    return first === undefined ? undefined : placeOf(first);
  }
}

function placeOf(entry: Entry): KeyPlace {
  return { path: entry.text, span: entry.span, valueSpan: { start: entry.span.end, end: entry.span.end } };
}

function ownTree(tree: Tree): LinesTree {
  if (tree instanceof LinesTree) return tree;
  throw new Error('A tree of another syntax was given to lines. This is a bug in thumbwright.');
}

function whyNoLine(path: string, style: Style): string | undefined {
  const comments = style.comment === undefined ? ['#'] : typeof style.comment === 'string' ? [style.comment] : style.comment;
  if (path === '' || path !== path.trim() || /[\r\n]/.test(path)) return 'A line is one text, without blanks at its ends.';
  return comments.some((comment) => comment !== '' && path.startsWith(comment)) ? 'A line that begins as a comment does would be one.' : undefined;
}

function changeLines(tree: LinesTree, changes: readonly Change[]): Changed {
  const { source, style } = tree;
  const plan = new LinePlan(source.text, style.lineEnd);
  const results: ChangeResult[] = changes.map(() => ({ kind: 'unchanged' }));
  const last = new Map(changes.map((change, index) => [change.path, index]));
  const refuse = (code: 'bad-key-path' | 'value-not-carried', detail: string, wayOut: string): ChangeResult => ({
    kind: 'refused',
    finding: makeFinding(code, { place: { source, span: { start: source.text.length, end: source.text.length } }, detail, wayOut }),
  });
  for (const [path, index] of last) {
    const change = changes[index];
    const why = whyNoLine(path, style);
    if (change === undefined) continue;
    if (why !== undefined) {
      results[index] = refuse('bad-key-path', `The line ${JSON.stringify(path.slice(0, 60))}: ${why}`, 'Correct the line in the dialect.');
      continue;
    }
    const there = tree.byText.get(path) ?? [];
    if (change.op === 'remove') {
      for (const entry of there) plan.cut({ start: entry.start, end: entry.next });
      if (there.length > 0) results[index] = { kind: 'changed' };
      continue;
    }
    if (change.value.kind !== 'scalar' || change.value.text !== 'present') {
      results[index] = refuse('value-not-carried', `The line ${JSON.stringify(path.slice(0, 60))} is there or not; it holds nothing else.`, 'Spell the value present, or remove the line.');
      continue;
    }
    if (there.length > 0) continue;
    const sorted = style.siblings === 'sorted' ? tree.entries.find((entry) => entry.text > path) : style.siblings === 'start' ? tree.entries[0] : undefined;
    plan.insert(sorted?.start ?? tree.entries.at(-1)?.next ?? source.text.length, [path]);
    results[index] = { kind: 'changed' };
  }
  return { edits: plan.finish(), results };
}

/**
 * A set of lines, in order: the key is the line's text (blanks at its ends off), its value `present`. Blank lines and
 * comments are kept. Style heeded: `comment`, `siblings` (where a new line goes), `lineEnd`.
 */
export const lines: Syntax = {
  name: 'lines',
  parse: (source, style) => ({ tree: new LinesTree(source, style), findings: [] }),
  change: (tree, changes) => changeLines(ownTree(tree), changes),
  badPath: (path) => whyNoLine(path, {}),
  escape: (value) => value.replace(/[\r\n]+/g, ' '),
};
