import type { Span } from '../../text/span.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { insertItems, removeItems } from '../shared/comma-items.ts';
import { printDottedPath, tomlPaths } from '../shared/dotted-path.ts';
import { LinePlan, lineEndAfter, lineStartBefore } from '../shared/line-plan.ts';
import {
  attachedStart,
  endOfSection,
  isBlankLine,
  nextLine,
  partsWithBlanks,
  previousLine,
  rootGap,
} from './toml-gaps.ts';
import type { TomlArray, TomlEntry, TomlInline, TomlNode, TomlSection, TomlTable, TomlTables } from './toml-model.ts';
import type { TomlTree } from './toml-tree.ts';

interface Items<T> {
  readonly of: T;
  readonly removed: Set<number>;
  /** New items by the index of the item that they follow (-1: none). */
  readonly added: Map<number, string[]>;
}

interface NewTable {
  readonly at: number;
  readonly blankBefore: boolean;
  readonly lines: string[];
}

const printKey = (names: readonly string[]): string => printDottedPath(names, tomlPaths);

/** Gathers what happens to one text, container by container, and writes it as edits once. */
export class TomlPlan {
  readonly #text: string;
  readonly #sections: readonly TomlSection[];
  readonly #lines: LinePlan;
  readonly #edits: TextEdit[] = [];
  readonly #removed = new Map<TomlSection, Set<TomlEntry>>();
  readonly #added = new Map<TomlSection, { at: number; line: string }[]>();
  readonly #inlines = new Map<TomlInline, Items<TomlInline>>();
  readonly #arrays = new Map<TomlArray, Items<TomlArray>>();
  readonly #tables = new Map<string, NewTable>();
  readonly #newAt = new Map<number, NewTable>();
  readonly #lastSections = new Map<TomlTable, TomlSection | undefined>();

  constructor(tree: TomlTree) {
    this.#text = tree.source.text;
    this.#sections = tree.document.sections;
    this.#lines = new LinePlan(this.#text, tree.style.lineEnd);
  }

  replace(span: Span, text: string): void {
    this.#edits.push({ span, text });
  }

  removeEntry(entry: TomlEntry): void {
    const { inside } = entry;
    if (inside.kind === 'inline') {
      itemsOf(this.#inlines, inside).removed.add(entry.index);
      return;
    }
    const known = this.#removed.get(inside);
    if (known === undefined) this.#removed.set(inside, new Set([entry]));
    else known.add(entry);
  }

  /** False when items are added to the same array in the same plan: the order would not be clear. */
  removeItem(array: TomlArray, index: number): boolean {
    const items = itemsOf(this.#arrays, array);
    if (items.added.size > 0) return false;
    items.removed.add(index);
    return true;
  }

  insertItems(array: TomlArray, after: number, texts: readonly string[]): boolean {
    const items = itemsOf(this.#arrays, array);
    if (items.removed.size > 0) return false;
    push(items.added, after, texts);
    return true;
  }

  /** Adds a record after an item, whatever else happens to the array. */
  putItem(array: TomlArray, after: number, text: string): void {
    push(itemsOf(this.#arrays, array).added, after, [text]);
  }

  /** Takes a record out, whatever else happens to the array. */
  takeItem(array: TomlArray, index: number): void {
    itemsOf(this.#arrays, array).removed.add(index);
  }

  /** Adds a key that is not there to a table; more than one name makes the tables between. */
  addKey(table: TomlTable, names: readonly string[], value: string): void {
    const { home } = table;
    if (home.kind === 'inline') {
      const items = itemsOf(this.#inlines, home.inline);
      push(items.added, home.inline.entries.length - 1, [`${printKey([...home.prefix, ...names])} = ${value}`]);
      return;
    }
    const inSection = home.kind === 'section' && (names.length === 1 || home.prefix.length > 0 || this.#dottedOnly());
    if (!inSection) {
      this.#addToNewTable(table, names, value);
      return;
    }
    const { section } = home;
    const line = `${this.#indentOf(home.last)}${printKey([...home.prefix, ...names])} = ${value}`;
    const last = home.last ?? section.entries.at(-1);
    const after = last?.span.end ?? section.header?.end;
    const at = after === undefined ? rootGap(this.#text, this.#sections).at : lineEndAfter(this.#text, after);
    const known = this.#added.get(section);
    if (known === undefined) this.#added.set(section, [{ at, line }]);
    else known.push({ at, line });
  }

  /** Adds an item, as lines below their own header, to an array of tables; `before`: the item that it stands before. */
  addTable(
    below: TomlTable,
    tables: TomlTables | undefined,
    header: readonly string[],
    lines: readonly string[],
    before: number | undefined,
  ): void {
    const text = this.#text;
    const block = [`[[${printKey(header)}]]`, ...lines];
    const first = tables?.items[0];
    if (before === 0 && first?.home.kind === 'section' && first.home.section.header !== undefined) {
      const at = attachedStart(text, lineStartBefore(text, first.home.section.header.start));
      const blank = partsWithBlanks(text, this.#sections, first.home.section);
      this.#lines.insert(at, blank ? [...block, ''] : block);
      return;
    }
    const previous = tables === undefined ? undefined : tables.items[(before ?? tables.items.length) - 1];
    const section = this.#lastSection(previous ?? below);
    const place = endOfSection(
      text,
      this.#sections,
      previous === undefined && below.header.length === 0 ? undefined : section,
    );
    const earlier = this.#newAt.get(place.at);
    const blankBefore = place.blankBefore || (earlier !== undefined && !place.blankStyleKnown);
    const made = { at: place.at, blankBefore, lines: block };
    this.#tables.set(JSON.stringify(['item', this.#tables.size]), made);
    this.#newAt.set(place.at, made);
  }

  /** Takes out an item of an array of tables: its sections, those of tables in it too. */
  dropTable(table: TomlTable): void {
    const text = this.#text;
    for (const section of sectionsOf(table)) {
      if (section.header === undefined) continue;
      const start = lineStartBefore(text, section.header.start);
      const end = lineEndAfter(text, section.entries.at(-1)?.span.end ?? section.header.end);
      const before = previousLine(text, start);
      if (before !== undefined && isBlankLine(text, before)) this.#lines.cut({ start: before, end });
      else if (before === undefined && isBlankLine(text, end) && text.slice(end).trim() !== '')
        this.#lines.cut({ start, end: nextLine(text, end) });
      else this.#lines.cut({ start, end });
    }
  }

  finish(): readonly TextEdit[] {
    const text = this.#text;
    for (const [section, removed] of this.#removed) this.#cut(section, removed);
    for (const [section, added] of this.#added) {
      for (const { at, line } of added) this.#lines.insert(at, [line]);
      if (section.header === undefined && section.entries.length === 0) {
        const gap = rootGap(text, this.#sections);
        if (gap.blankAfter) this.#lines.insert(gap.at, ['']);
      }
    }
    for (const { at, blankBefore, lines } of this.#tables.values()) {
      this.#lines.insert(at, blankBefore ? ['', ...lines] : lines);
    }
    for (const { of, removed, added } of this.#inlines.values())
      this.#finishInline(of, removed, [...added.values()].flat());
    for (const { of, removed, added } of this.#arrays.values()) {
      const list = { inner: insideOf(of.span), items: of.items.map(nodeSpan) };
      const out = new Set(removed);
      for (const [after, fresh] of added) {
        // Records that come take the places of records that go: two edits at one comma would not go together.
        const texts = [...fresh];
        for (const index of [...out]) {
          const span = list.items[index];
          const place = span === undefined ? undefined : texts.shift();
          if (span === undefined || place === undefined) break;
          this.replace(span, place);
          out.delete(index);
        }
        for (const edit of insertItems(text, list, after, texts)) this.replace(edit.span, edit.text);
      }
      for (const edit of removeItems(text, list, out)) this.replace(edit.span, edit.text);
    }
    for (const edit of this.#edits) this.#lines.replace(edit);
    return this.#lines.finish();
  }

  #finishInline(inline: TomlInline, removed: Set<number>, texts: readonly string[]): void {
    const fresh = [...texts];
    const out = new Set(removed);
    // A key that comes takes the place of one that goes: the order of keys has no meaning in a table.
    for (const index of removed) {
      const text = fresh.shift();
      if (text === undefined) break;
      const entry = inline.entries[index];
      if (entry !== undefined) this.replace(entry.span, text);
      out.delete(index);
    }
    const list = { inner: insideOf(inline.span), items: inline.entries.map((entry) => entry.span) };
    const edits = [
      ...removeItems(this.#text, list, out),
      ...insertItems(this.#text, list, inline.entries.length - 1, fresh),
    ];
    for (const edit of edits) this.replace(edit.span, edit.text);
  }

  #cut(section: TomlSection, removed: ReadonlySet<TomlEntry>): void {
    const text = this.#text;
    const emptied = removed.size === section.entries.length && !this.#added.has(section);
    const first = section.entries[0];
    const last = section.entries.at(-1);
    if (emptied && first !== undefined && last !== undefined) {
      const end = lineEndAfter(text, last.span.end);
      if (section.header !== undefined) {
        if (!section.ofArray && !this.#hasOwnComments(section, end)) {
          const start = lineStartBefore(text, section.header.start);
          const before = previousLine(text, start);
          const blank = before !== undefined && isBlankLine(text, before) && before > 0;
          this.#lines.cut({ start: blank ? before : start, end });
          return;
        }
      } else if (
        this.#sections.length > 1 &&
        this.#standTogether(section) &&
        end < section.limit &&
        isBlankLine(text, end)
      ) {
        const start = lineStartBefore(text, first.span.start);
        const below = attachedStart(text, lineStartBefore(text, section.limit));
        if (/^[\s\ufeff]*$/.test(text.slice(0, start)) && below === nextLine(text, end)) {
          this.#lines.cut({ start, end: nextLine(text, end) });
          return;
        }
      }
    }
    for (const entry of removed) {
      this.#lines.cut({ start: lineStartBefore(text, entry.span.start), end: lineEndAfter(text, entry.span.end) });
    }
  }

  /** Whether no line stands between the keys of a section. */
  #standTogether({ entries }: TomlSection): boolean {
    const ends = entries.map((entry) => lineEndAfter(this.#text, entry.span.end));
    return entries.every((entry, k) => k === 0 || lineStartBefore(this.#text, entry.span.start) === ends[k - 1]);
  }

  /** Whether a comment stands on the header's line, on a line between its keys, or right below them. */
  #hasOwnComments(section: TomlSection, end: number): boolean {
    const text = this.#text;
    let at = section.header?.end ?? 0;
    for (const entry of section.entries) {
      if (text.slice(at, lineStartBefore(text, entry.span.start)).includes('#')) return true;
      at = lineEndAfter(text, entry.span.end);
    }
    if (end >= text.length || !/[ \t]*#/y.test(text.slice(end, nextLine(text, end)))) return false;
    // Comments that lead up to the next header are that one's.
    return section.limit === text.length || attachedStart(text, lineStartBefore(text, section.limit)) > end;
  }

  #addToNewTable(below: TomlTable, names: readonly string[], value: string): void {
    const header = [...below.header, ...names.slice(0, -1)];
    const section = this.#lastSection(below);
    const key = JSON.stringify([below.header.length === 0 ? -1 : section.limit, header]);
    const line = `${printKey(names.slice(-1))} = ${value}`;
    const known = this.#tables.get(key);
    if (known !== undefined) {
      known.lines.push(line);
      return;
    }
    const place = endOfSection(this.#text, this.#sections, below.header.length === 0 ? undefined : section);
    const { at } = place;
    // A second new table at one place is parted as the first one is; in an empty text, by a blank line.
    const before = this.#newAt.get(at);
    const blankBefore = place.blankBefore || (before !== undefined && !place.blankStyleKnown);
    const made = { at, blankBefore, lines: [`[${printKey(header)}]`, line] };
    this.#tables.set(key, made);
    this.#newAt.set(at, made);
  }

  /** The last section, in file order, that belongs to a table or to one inside it. */
  #lastSection(table: TomlTable): TomlSection {
    const first = this.#sections[0];
    if (first === undefined) throw new Error('A TOML text has no first section. This is a bug in thumbwright.');
    if (table.header.length === 0) return this.#sections.at(-1) ?? first;
    if (!this.#lastSections.has(table)) this.#lastSections.set(table, lastSectionBelow(table));
    return this.#lastSections.get(table) ?? first;
  }

  /** The file has dotted keys and no headers: new groups are written so too. */
  #dottedOnly(): boolean {
    const [top] = this.#sections;
    if (this.#sections.length > 1 || top === undefined) return false;
    return top.entries.some(({ span, valueSpan }) => /^[^"'#=]*\./.test(this.#text.slice(span.start, valueSpan.start)));
  }

  #indentOf(entry: TomlEntry | undefined): string {
    if (entry === undefined) return '';
    return this.#text.slice(lineStartBefore(this.#text, entry.span.start), entry.span.start);
  }
}

function itemsOf<T>(all: Map<T, Items<T>>, of: T): Items<T> {
  let items = all.get(of);
  if (items === undefined) all.set(of, (items = { of, removed: new Set(), added: new Map() }));
  return items;
}

function push(added: Map<number, string[]>, after: number, texts: readonly string[]): void {
  if (texts.length === 0) return;
  const known = added.get(after);
  if (known === undefined) added.set(after, [...texts]);
  else known.push(...texts);
}

const insideOf = (span: Span): Span => ({ start: span.start + 1, end: span.end - 1 });

function nodeSpan(node: TomlNode): Span {
  if (node.kind === 'scalar' || node.kind === 'array') return node.span;
  if (node.kind === 'table' && node.home.kind === 'inline') return node.home.inline.span;
  throw new Error('An item of a TOML array has no place. This is a bug in thumbwright.');
}

/** The sections that belong to a table and to those inside it, in no order. */
export function sectionsOf(node: TomlNode): readonly TomlSection[] {
  if (node.kind === 'tables') return node.items.flatMap(sectionsOf);
  if (node.kind !== 'table') return [];
  const own = node.home.kind === 'section' && node.home.prefix.length === 0 ? [node.home.section] : [];
  return [...own, ...[...node.members.values()].flatMap((member) => sectionsOf(member.node))];
}

function lastSectionBelow(table: TomlTable): TomlSection | undefined {
  let last: TomlSection | undefined;
  for (const section of sectionsOf(table)) if (last === undefined || section.limit > last.limit) last = section;
  return last;
}
