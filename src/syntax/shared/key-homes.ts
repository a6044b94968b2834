import type { SectionLine } from './keyed-line.ts';
import type { KeyGroup, KeyName, KeyedTree } from './keyed-tree.ts';
import type { LinePlan } from './line-plan.ts';
import { eachBeginning, lastWithBeginning } from './name-beginnings.ts';
import { afterLineEnd, firstLine, lineStop } from './physical-lines.ts';
import { blankAbove, ownHeaderStart, partsSections, previousLine } from './section-layout.ts';

interface Node {
  readonly line: string;
  next: Node | undefined;
}

/** New lines at one place of the text, or of one new section. */
interface Chain {
  first: Node | undefined;
  /** An empty line goes above them. */
  readonly gap: boolean;
}

interface Slot {
  /** Undefined until a line is put there: that of the position. */
  readonly chain: Chain | undefined;
  readonly position: number;
  readonly after: Node | undefined;
}

/** The places of one group, by the beginnings of the names that stand there. */
interface Home {
  readonly slots: Map<string, Slot>;
}

interface NewSection extends Home {
  readonly name: string;
  readonly chain: Chain;
}

/**
 * Finds the place of each new key: after a commented-out example of it; else after the last key of its section that shares
 * the longest beginning of its name (up to a `_`, `-`, `.`, `/`, `:` or blank); else after the section's last key. A missing
 * section goes to the end of the text, parted from it as the others are.
 *
 * A section that is empty and ends the text looks just like one that we would add: to tell the two when the key goes
 * again, an empty line is put between that header and its first key.
 */
export class KeyHomes {
  readonly touched = new Set<KeyGroup>();
  readonly #tree: KeyedTree;
  readonly #asked: readonly KeyName[];
  readonly #homes = new Map<KeyGroup, Home>();
  readonly #sections = new Map<string, NewSection>();
  readonly #chains = new Map<number, Chain>();
  #endsOpen: boolean | undefined;
  #wanted: ReadonlyMap<KeyGroup, readonly string[]> | undefined;
  #examples: ReadonlyMap<KeyGroup, ReadonlyMap<string, number>> | undefined;

  /** `asked`: all keys that may be added, and others. */
  constructor(tree: KeyedTree, asked: readonly KeyName[]) {
    this.#tree = tree;
    this.#asked = asked;
  }

  /** Puts a line in its place. False when that is behind a last line that goes on and would take the new one in. */
  add(key: KeyName, line: string): boolean {
    const { grammar } = this.#tree;
    const group = this.#tree.group(key.section);
    const name = grammar.fold(key.name);
    this.#endsOpen ??= endsOpen(this.#tree);
    if (this.#endsOpen && group === undefined) return false;
    const home = group === undefined ? this.#newSection(key.section ?? '') : this.#homeOf(group);
    const example = group === undefined ? undefined : this.#exampleOf(group, name);
    const slot =
      example === undefined
        ? slotFor(home, name)
        : { chain: this.#chainAt(example), position: example, after: undefined };
    if (slot === undefined) throw new Error('A group of keys without a place for one. This is a bug in thumbwright.');
    const { position, after, chain = this.#chainAt(position) } = slot;
    if (this.#endsOpen && position === this.#tree.source.text.length) return false;
    if (group !== undefined) this.touched.add(group);
    const node: Node = { line, next: after === undefined ? chain.first : after.next };
    if (after === undefined) chain.first = node;
    else after.next = node;
    note(home, name, { chain, position, after: node });
    return true;
  }

  write(plan: LinePlan): void {
    const { text } = this.#tree.source;
    for (const [position, chain] of this.#chains) {
      if (chain.first !== undefined) plan.insert(position, chain.gap ? ['', ...linesOf(chain)] : linesOf(chain));
    }
    if (this.#sections.size === 0) return;
    const keyAbove = this.#chains.get(text.length)?.first !== undefined;
    let something = keyAbove || text.length > firstLine(text);
    let parts = partsSections(this.#tree, this.#tree.headers.length);
    let first = this.#tree.headers.length === 0;
    const blankAtEnd = !keyAbove && blankAbove(this.#tree, text.length);
    // As if they were added one after the other: each shows the next how sections are parted.
    for (const { name, chain } of this.#sections.values()) {
      const blank = something && parts;
      plan.insert(text.length, [...(blank ? [''] : []), `[${name}]`, ...linesOf(chain)]);
      if (!first) parts = blank || (parts && something) || blankAtEnd;
      something = true;
      first = false;
    }
  }

  #newSection(name: string): NewSection {
    const folded = this.#tree.grammar.fold(name);
    let section = this.#sections.get(folded);
    if (section === undefined) {
      const chain: Chain = { first: undefined, gap: false };
      section = { name, chain, slots: new Map([['', { chain, position: 0, after: undefined }]]) };
      this.#sections.set(folded, section);
    }
    return section;
  }

  #chainAt(position: number, gap = false): Chain {
    let chain = this.#chains.get(position);
    if (chain === undefined) this.#chains.set(position, (chain = { first: undefined, gap }));
    return chain;
  }

  #homeOf(group: KeyGroup): Home {
    let home = this.#homes.get(group);
    if (home !== undefined) return home;
    const { text } = this.#tree.source;
    home = { slots: new Map() };
    this.#homes.set(group, home);
    if (group.lines.length === 0) {
      const { position, gap } = this.#emptyGroup(group);
      home.slots.set('', { chain: this.#chainAt(position, gap), position, after: undefined });
    }
    const { grammar } = this.#tree;
    this.#wanted ??= this.#newNames();
    const names = group.lines.map((line) => grammar.fold(line.name));
    for (const { beginning, last } of lastWithBeginning(names, this.#wanted.get(group) ?? [])) {
      const line = group.lines[last];
      if (line === undefined) continue;
      home.slots.set(beginning, { chain: undefined, position: afterLineEnd(text, line.stop), after: undefined });
    }
    return home;
  }

  /** The asked names that are not there, by the group that they go to. */
  #newNames(): ReadonlyMap<KeyGroup, readonly string[]> {
    const wanted = new Map<KeyGroup, string[]>();
    for (const { section, name } of this.#asked) {
      const group = this.#tree.group(section);
      const folded = this.#tree.grammar.fold(name);
      if (group === undefined || group.effective.has(folded)) continue;
      const known = wanted.get(group);
      if (known === undefined) wanted.set(group, [folded]);
      else known.push(folded);
    }
    return wanted;
  }

  #emptyGroup(group: KeyGroup): { position: number; gap: boolean } {
    const { text } = this.#tree.source;
    let header: SectionLine | undefined;
    for (const one of group.headers) header = one;
    if (header !== undefined) {
      const position = afterLineEnd(text, header.stop);
      return {
        position,
        gap:
          position === text.length && ownHeaderStart(this.#tree, header, this.#tree.headers.length - 1) !== undefined,
      };
    }
    const [first] = this.#tree.headers;
    if (first === undefined) return { position: text.length, gap: false };
    // Before the comment that belongs to the first section, when a blank line parts it from the file's own.
    let position = first.start;
    for (let above = previousLine(text, position); above !== undefined; above = previousLine(text, above.start)) {
      if (text.slice(above.start, above.stop).trim() === '') return { position, gap: false };
      position = above.start;
    }
    return { position: first.start, gap: false };
  }

  #exampleOf(group: KeyGroup, folded: string): number | undefined {
    this.#examples ??= findExamples(this.#tree);
    return this.#examples.get(group)?.get(folded);
  }
}

/** Whether a line added at the end of the text would be taken into the last one: `k = a \` there. */
function endsOpen({ grammar, order, source: { text } }: KeyedTree): boolean {
  const last = order.at(-1);
  if (last === undefined || afterLineEnd(text, last.stop) < text.length) return false;
  const ended = /[\r\n]$/.test(text);
  const line = `${text.slice(last.start)}${ended ? '' : '\n'}x`;
  const read = grammar.read(line, 0, lineStop(line, 0));
  return read?.kind === 'key' && read.stop === line.length;
}

function linesOf(chain: Chain): string[] {
  const lines: string[] = [];
  for (let node = chain.first; node !== undefined; node = node.next) lines.push(node.line);
  return lines;
}

function note({ slots }: Home, name: string, slot: Slot): void {
  eachBeginning(name, (beginning) => {
    const known = slots.get(beginning);
    if (known === undefined || known.position <= slot.position) slots.set(beginning, slot);
  });
}

function slotFor({ slots }: Home, name: string): Slot | undefined {
  let longest: Slot | undefined;
  eachBeginning(name, (beginning) => {
    longest = slots.get(beginning) ?? longest;
  });
  return longest;
}

/** Per group, the offset after the last comment line that shows each key. Key lines are not read again. */
function findExamples(tree: KeyedTree): ReadonlyMap<KeyGroup, ReadonlyMap<string, number>> {
  const { grammar, source } = tree;
  const { text } = source;
  const examples = new Map<KeyGroup, Map<string, number>>();
  let group: KeyGroup | undefined = tree.top;
  let at = firstLine(text);
  const look = (end: number): void => {
    while (at < end) {
      const stop = lineStop(text, at);
      const name = group === undefined ? undefined : grammar.example(text, at, stop);
      at = afterLineEnd(text, stop);
      if (name === undefined || group === undefined) continue;
      const known = examples.get(group);
      if (known === undefined) examples.set(group, new Map([[grammar.fold(name), at]]));
      else known.set(grammar.fold(name), at);
    }
  };
  for (const line of tree.order) {
    if (at < line.start) look(line.start);
    at = afterLineEnd(text, line.stop);
    if (line.kind !== 'section') continue;
    const known: KeyGroup | undefined = tree.groups.get(grammar.fold(line.name));
    group = known?.headers.has(line) === true ? known : undefined;
  }
  look(text.length);
  return examples;
}
