import type { Change, ChangeResult, Changed, SyntaxValue } from '../contract.ts';
import { badPath, cannotCarry, endOf, notDetermined } from './keyed-refusals.ts';
import { KeyHomes } from './key-homes.ts';
import { KeyNeighbours } from './key-neighbours.ts';
import type { KeyedLine } from './keyed-line.ts';
import { listMark } from './keyed-tree.ts';
import type { KeyGroup, KeyName, KeyedTree } from './keyed-tree.ts';
import { LinePlan } from './line-plan.ts';
import { lineStop } from './physical-lines.ts';
import { removeLines } from './remove-lines.ts';

const unchanged: ChangeResult = { kind: 'unchanged' };
const changed: ChangeResult = { kind: 'changed' };

/** Several changes of a text whose keys stand on lines. Linear in the text and the changes. */
export function changeKeyed(
  tree: KeyedTree,
  changes: readonly Change[],
  isBad: (path: string) => string | undefined,
): Changed {
  const bad = changes.map((change) => isBad(change.path));
  const keys = changes.map((change) => tree.locate(change.path));
  const changer = new KeyedChanger(tree, keys);
  const ids = keys.map((key, index) => (bad[index] === undefined ? idOf(tree, key) : undefined));
  const last = new Map<string | undefined, number>();
  ids.forEach((id, index) => last.set(id, index));
  const results: ChangeResult[] = [];
  changes.forEach((change, index) => {
    const why = bad[index];
    const key = keys[index];
    if (why !== undefined) results[index] = badPath(tree.source, change.path, why);
    else if (key !== undefined && last.get(ids[index]) === index) results[index] = changer.apply(change, key);
  });
  return {
    results: changes.map((_, index) => results[index] ?? results[last.get(ids[index]) ?? -1] ?? unchanged),
    edits: changer.finish(),
  };
}

function idOf({ grammar }: KeyedTree, { section, name }: KeyName): string {
  const folded = grammar.fold(name);
  return section === undefined ? folded : `${grammar.fold(section)}\n${folded}`;
}

class KeyedChanger {
  readonly #tree: KeyedTree;
  readonly #plan: LinePlan;
  readonly #homes: KeyHomes;
  readonly #neighbours: KeyNeighbours;
  readonly #removed = new Map<KeyGroup, Set<string>>();

  constructor(tree: KeyedTree, asked: readonly KeyName[]) {
    this.#tree = tree;
    this.#plan = new LinePlan(tree.source.text, tree.style.lineEnd);
    this.#homes = new KeyHomes(tree, asked);
    this.#neighbours = new KeyNeighbours(tree);
  }

  apply(change: Change, key: KeyName): ChangeResult {
    const group = this.#tree.group(key.section);
    const line = group?.effective.get(this.#tree.grammar.fold(key.name));
    if (change.op === 'remove') {
      if (group === undefined || line === undefined) return unchanged;
      const names = this.#removed.get(group);
      const folded = this.#tree.grammar.fold(key.name);
      if (names === undefined) this.#removed.set(group, new Set([folded]));
      else names.add(folded);
      return changed;
    }
    if (line !== undefined && sameList(change.value, this.#tree.valueOf(line))) return unchanged;
    const value = joined(change.value, this.#tree.style.list);
    if (value.kind === 'cannot') {
      return cannotCarry(
        this.#tree.source,
        change.path,
        value.why,
        line === undefined ? endOf(this.#tree.source) : lineSpan(line),
      );
    }
    return line === undefined
      ? this.#add(change.path, key, group, value.text)
      : this.#set(change.path, group, line, value.text);
  }

  #set(path: string, group: KeyGroup | undefined, line: KeyedLine, value: string): ChangeResult {
    const { grammar, source } = this.#tree;
    const { text } = source;
    const { start, stop, keyEnd, valueStart, valueEnd } = line;
    if (grammar.valueOf(text, line) === value) return unchanged;
    const before = text.slice(start, line.separated ? valueStart : keyEnd);
    const after = text.slice(line.separated ? valueEnd : keyEnd, stop);
    const hasValue = line.separated && valueEnd > valueStart;
    const quote = hasValue
      ? grammar.quoteOf(text.slice(valueStart, valueEnd))
      : this.#neighbours.of(group).quoteFor(value);
    const separator = line.separated ? '' : this.#neighbours.of(group).separatorAfter(keyEnd - line.keyStart);
    for (const spelled of grammar.spellValue(value, quote)) {
      if (!this.#readsBack(before + separator + spelled + after, line.name, value)) continue;
      const span = line.separated ? { start: valueStart, end: valueEnd } : { start: keyEnd, end: keyEnd };
      this.#plan.replace({ span, text: separator + spelled });
      return changed;
    }
    // Where the value began on a later line than the key, it may have to come back to the key's.
    const anew = this.#neighbours.of(group).separatorAfter(keyEnd - line.keyStart);
    for (const spelled of grammar.spellValue(value, quote)) {
      if (!this.#readsBack(text.slice(start, keyEnd) + anew + spelled + after, line.name, value)) continue;
      this.#plan.replace({ span: { start: keyEnd, end: line.separated ? valueEnd : keyEnd }, text: anew + spelled });
      return changed;
    }
    return cannotCarry(source, path, grammar.whyNot(value), lineSpan(line));
  }

  #add(path: string, key: KeyName, group: KeyGroup | undefined, value: string): ChangeResult {
    const { grammar, source } = this.#tree;
    const manner = this.#neighbours.of(group);
    const spelledKey = grammar.spellKey(key.name);
    const lead = manner.indent + spelledKey + manner.separatorAfter(spelledKey.length);
    for (const spelled of grammar.spellValue(value, manner.quoteFor(value))) {
      const line = lead + spelled;
      if (!this.#readsBack(line, key.name, value)) continue;
      if (key.section !== undefined && !this.#isHeader(`[${key.section}]`, key.section)) break;
      if (this.#homes.add(key, line)) return changed;
      return notDetermined(
        source,
        path,
        'the last line of the file goes on: it would take the new one into its value.',
      );
    }
    const [probe] = grammar.spellValue('x', '');
    const nameFails = !this.#readsBack(lead + (probe ?? ''), key.name, 'x');
    if (nameFails || (key.section !== undefined && !this.#isHeader(`[${key.section}]`, key.section))) {
      return badPath(
        source,
        path,
        'Written on a line of this file, it would be read as another key, a comment or a heading.',
      );
    }
    return cannotCarry(source, path, grammar.whyNot(value), endOf(source));
  }

  #isHeader(line: string, section: string): boolean {
    const read = this.#tree.grammar.read(line, 0, lineStop(line, 0));
    return read?.kind === 'section' && read.name === section && read.stop === line.length;
  }

  /** The proof of every spelling: the line, read again, holds this key and this value and ends where it should. */
  #readsBack(line: string, name: string, value: string): boolean {
    const { grammar } = this.#tree;
    const read = grammar.read(line, 0, lineStop(line, 0));
    if (read?.kind !== 'key' || read.name !== name || read.stop !== line.length) return false;
    return grammar.valueOf(line, read) === value && grammar.fits(line) && !grammar.goesOn(line);
  }

  finish(): Changed['edits'] {
    removeLines(this.#tree, this.#removed, this.#homes.touched, this.#plan);
    this.#homes.write(this.#plan);
    return this.#plan.finish();
  }
}

function lineSpan(line: KeyedLine): { start: number; end: number } {
  return { start: line.start, end: line.stop };
}

function sameList(asked: SyntaxValue, held: SyntaxValue): boolean {
  if (asked.kind === 'scalar' || held.kind === 'scalar' || asked.items.length !== held.items.length) return false;
  return asked.items.every((item, k) => item.text === held.items[k]?.text);
}

type Joined = { readonly kind: 'text'; readonly text: string } | { readonly kind: 'cannot'; readonly why: string };

function joined(value: SyntaxValue, separator: string | undefined): Joined {
  if (value.kind === 'scalar') return { kind: 'text', text: value.text };
  const items = value.items.map((item) => item.text);
  if (items.length < 2) return { kind: 'text', text: items[0] ?? '' };
  if (separator === undefined || separator === '') {
    return {
      kind: 'cannot',
      why: 'It is a list, and the dialect does not say what joins its items: `style: { list: "," }`.',
    };
  }
  const mark = listMark(separator);
  const holding = items.find((item) => item.includes(mark) || item !== item.trim());
  if (holding !== undefined) {
    return {
      kind: 'cannot',
      why: `The item ${JSON.stringify(holding)} holds ${JSON.stringify(mark)}, which parts the items, or begins or ends with a blank.`,
    };
  }
  return { kind: 'text', text: items.join(separator) };
}
