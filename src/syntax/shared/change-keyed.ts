import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Code } from '../../diagnostics/catalogue.ts';
import type { Change, Changed, ChangeResult, SyntaxValue } from '../contract.ts';
import { readKeyedLines } from './keyed-lines.ts';
import type { KeyLine, Section } from './keyed-lines.ts';
import type { KeyedTree } from './keyed-tree.ts';
import { LinePlan } from './line-plan.ts';

const quoteMarks = ['"', "'"] as const;

function refused(tree: KeyedTree, code: Code, path: string, detail: string, wayOut: string, line?: KeyLine): ChangeResult {
  const end = tree.source.text.length;
  return { kind: 'refused', finding: makeFinding(code, { place: { source: tree.source, span: line?.span ?? { start: end, end } }, detail: `The key ${JSON.stringify(path)}: ${detail}.`, wayOut }) };
}

/** The text that a value is on its line; undefined with a reason when a list has no separator or an item holds it. */
function plainText(value: SyntaxValue, separator: string | undefined): { readonly text: string } | { readonly why: string } {
  if (value.kind === 'scalar') return { text: value.text };
  if (separator === undefined) return value.items.length === 1 ? { text: value.items[0]?.text ?? '' } : { why: 'a list needs a separator, and the style names none' };
  const holding = value.items.find((item) => item.text.includes(separator));
  if (holding !== undefined) return { why: `an item of the list holds the separator ${JSON.stringify(separator)}` };
  return { text: value.items.map((item) => item.text).join(separator) };
}

/**
 * Sets and removes keys of lines. One index, edits sorted and disjoint, linear in text and changes. A new key goes
 * behind a commented-out example of itself, else behind its nearest namesake, else at the end of its section; a
 * section that loses its last key goes too, unless a comment stands in it.
 */
export function changeKeyed(tree: KeyedTree, changes: readonly Change[]): Changed {
  const { source, settled } = tree;
  const plan = new LinePlan(source.text, tree.style.lineEnd);
  const results: ChangeResult[] = changes.map(() => ({ kind: 'unchanged' }));
  // Of several changes of one key the last is made.
  const last = new Map<string, number>();
  changes.forEach((change, index) => {
    const read = tree.naming.read(change.path);
    if (read === undefined) {
      results[index] = refused(tree, 'bad-key-path', change.path, tree.naming.parted ? 'it is not of the form [section] name' : 'it is no name of a key', 'Correct the key in the dialect.');
      return;
    }
    last.set(tree.foldedPath(read.section, read.name), index);
  });
  const removed = new Set<KeyLine>();
  const added = new Map<string, { section: string; lines: string[] }>();
  const grown = new Set<number>();
  for (const index of last.values()) {
    const change = changes[index];
    if (change === undefined) continue;
    const lines = tree.linesAt(change.path);
    const line = tree.effective(lines);
    if (change.op === 'remove') {
      if (line === undefined) continue;
      for (const each of lines) removed.add(each);
      results[index] = { kind: 'changed' };
      continue;
    }
    if (lines.length > 1 && settled.duplicates === 'error') {
      results[index] = refused(tree, 'key-ambiguous', change.path, 'it stands on several lines, and the program takes none of them', 'Remove all but one of the lines.', lines[1]);
      continue;
    }
    const plain = plainText(change.value, settled.list);
    if ('why' in plain) {
      results[index] = refused(tree, 'value-not-carried', change.path, plain.why, 'Choose a value that one line can hold.', line);
      continue;
    }
    results[index] = line === undefined ? addLine(tree, plan, change.path, plain.text, added, grown) : replaceValue(tree, plan, change.path, line, plain.text);
  }
  cutLines(tree, plan, removed, grown);
  for (const { section, lines } of added.values()) {
    const { text } = source;
    // A section of its own is parted by a blank line, as people write them.
    const blank = text.length > 0 && text !== '\ufeff' && !/(?:^|\r\n|\n|\r)[ \t]*(?:\r\n|\n|\r)?$/.test(endOf(text));
    plan.insert(text.length, [...(blank ? [''] : []), `[${section}]`, ...lines]);
  }
  return { edits: plan.finish(), results };
}

/** The last two lines, enough to see whether the last is blank. */
function endOf(text: string): string {
  return text.slice(Math.max(0, text.length - 200));
}

/** A value as it may stand on its line, best first: as it stood, bare, quoted. */
function spellings(text: string, quote: '' | "'" | '"', quotes: boolean): readonly string[] {
  const quoted = quotes ? quoteMarks.filter((mark) => !text.includes(mark)).map((mark) => mark + text + mark) : [];
  const own = quote === '' ? [text] : quoted.filter((raw) => raw.startsWith(quote));
  return [...new Set([...own, text, ...quoted])];
}

/** Whether a line, read by itself, is this key with this value. */
function readsAs(tree: KeyedTree, line: string, name: string, value: string): boolean {
  if (/[\r\n]/.test(line)) return false;
  const { keys } = readKeyedLines(line, tree.settled, tree.naming.parted, tree.naming.bare);
  const [only] = keys;
  return keys.length === 1 && only?.name === name && only.value === value && only.next === line.length && !continues(tree, line);
}

function continues(tree: KeyedTree, line: string): boolean {
  return tree.settled.continuation !== undefined && line.endsWith(tree.settled.continuation);
}

function replaceValue(tree: KeyedTree, plan: LinePlan, path: string, line: KeyLine, value: string): ChangeResult {
  if (line.value === value) return { kind: 'unchanged' };
  const { text } = tree.source;
  const before = text.slice(line.span.start, line.valueSpan.start) + (line.parted ? '' : tree.settled.separator);
  const after = text.slice(line.valueSpan.end, line.next).replace(/[\r\n]+$/, '');
  const gap = line.parted && line.valueSpan.start === line.valueSpan.end ? tree.settled.separator.slice(tree.settled.separator.trimEnd().length) : '';
  for (const raw of spellings(value, line.quote, tree.settled.quotes)) {
    if (!readsAs(tree, `${before}${raw === '' ? '' : gap}${raw}${after}`, line.name, value)) continue;
    const lead = `${line.parted ? '' : tree.settled.separator}${raw === '' ? '' : gap}`;
    plan.replace({ span: line.valueSpan, text: lead + raw });
    return { kind: 'changed' };
  }
  return refused(tree, 'value-not-carried', path, `no spelling of ${JSON.stringify(value.slice(0, 60))} on one line reads as it`, 'Choose a value without line ends, and without blanks at its ends where the file knows no quotes.', line);
}

function parts(name: string): readonly string[] {
  return name.split(/[-_.:/ ]/);
}

function commonParts(a: readonly string[], b: readonly string[]): number {
  let k = 0;
  while (k < a.length && k < b.length && a[k] === b[k]) k += 1;
  return k;
}

interface Home {
  readonly at: number;
  readonly indent: string;
}

/** Where a new key of an existing section goes. */
function homeOf(tree: KeyedTree, indices: readonly number[], name: string): Home {
  const { lines, settled } = tree;
  const folded = settled.fold(name);
  const here = new Set(indices);
  const example = lines.examples.filter((e) => here.has(e.section) && settled.fold(e.name) === folded).at(-1);
  if (example !== undefined) return { at: example.next, indent: example.indent };
  const own = parts(folded);
  let best: KeyLine | undefined;
  let most = 0;
  let final: KeyLine | undefined;
  for (const line of lines.keys) {
    if (!here.has(line.section)) continue;
    final = line;
    const common = commonParts(own, parts(settled.fold(line.name)));
    if (common >= most && common > 0) {
      most = common;
      best = line;
    }
  }
  const near = best ?? final;
  if (near !== undefined) return { at: near.next, indent: near.indent };
  const section: Section | undefined = lines.sections[indices.at(-1) ?? 0];
  if (section === undefined || section.name === undefined) {
    // Before any section, or a file without keys: behind the comments at its head.
    const end = lines.sections.length > 1 ? (section?.next ?? 0) : tree.source.text.length;
    return { at: end, indent: '' };
  }
  return { at: section.next, indent: '' };
}

function addLine(tree: KeyedTree, plan: LinePlan, path: string, value: string, added: Map<string, { section: string; lines: string[] }>, grown: Set<number>): ChangeResult {
  const read = tree.naming.read(path);
  if (read === undefined) return { kind: 'unchanged' };
  const { settled } = tree;
  const raws = settled.newQuote === '' ? spellings(value, '', settled.quotes) : spellings(value, settled.newQuote, settled.quotes);
  const separator = settled.separator;
  const made = raws.map((raw) => (raw === '' ? `${read.name}${separator.trimEnd() === '' ? separator : separator.trimEnd()}` : `${read.name}${separator}${raw}`)).find((line) => readsAs(tree, line, read.name, value));
  if (made === undefined) return refused(tree, 'value-not-carried', path, `no spelling of ${JSON.stringify(value.slice(0, 60))} on one line reads as it`, 'Choose a value without line ends, and without blanks at its ends where the file knows no quotes.');
  const indices = tree.sectionsOf.get(settled.fold(read.section ?? '\n'));
  if (indices === undefined) {
    const folded = settled.fold(read.section ?? '');
    const known = added.get(folded);
    if (known === undefined) added.set(folded, { section: read.section ?? '', lines: [made] });
    else known.lines.push(made);
    return { kind: 'changed' };
  }
  for (const index of indices) grown.add(index);
  const home = homeOf(tree, indices, read.name);
  plan.insert(home.at, [home.indent + made]);
  return { kind: 'changed' };
}

/** Cuts the lines of removed keys, and sections that hold nothing any more with the blank line before them. */
function cutLines(tree: KeyedTree, plan: LinePlan, removed: ReadonlySet<KeyLine>, grown: ReadonlySet<number>): void {
  if (removed.size === 0) return;
  const { text } = tree.source;
  const left = new Map<number, number>();
  for (const line of tree.lines.keys) left.set(line.section, (left.get(line.section) ?? 0) + (removed.has(line) ? 0 : 1));
  const emptied = new Set<number>();
  for (const line of removed) {
    const section = tree.lines.sections[line.section];
    if (section?.name !== undefined && left.get(line.section) === 0 && !section.commented && !grown.has(line.section)) emptied.add(line.section);
    plan.cut({ start: line.start, end: line.next });
  }
  for (const index of emptied) {
    const section = tree.lines.sections[index];
    if (section === undefined) continue;
    const before = /(?:^|\r\n|\n|\r)([ \t]*(?:\r\n|\n|\r))$/.exec(text.slice(Math.max(0, section.start - 200), section.start))?.[1]?.length ?? 0;
    plan.cut({ start: section.start - before, end: section.next });
  }
}

