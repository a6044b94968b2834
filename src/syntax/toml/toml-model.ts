import type { Span } from '../../text/span.ts';

/** A string, number, boolean, date or time. `literal`: not a string; `text` is then as written. */
export interface TomlScalar {
  readonly kind: 'scalar';
  readonly span: Span;
  readonly text: string;
  readonly literal: boolean;
}

/** An array written with brackets. */
export interface TomlArray {
  readonly kind: 'array';
  readonly span: Span;
  readonly items: readonly TomlNode[];
}

/** An array that is read as one list: it holds scalars only. */
export interface TomlList extends TomlArray {
  readonly items: readonly TomlScalar[];
}

/** Keys and their places, in the order in which the file brings them. */
export interface TomlTable {
  readonly kind: 'table';
  readonly members: Map<string, TomlMember>;
  /** Where a new key of this table is written. */
  home: TomlHome;
  /** Names and, for items of arrays of tables, nothing: the table's header is `[a.b]` of these. */
  readonly header: readonly string[];
}

/** An array of tables written with `[[headers]]`. */
export interface TomlTables {
  readonly kind: 'tables';
  readonly items: TomlTable[];
}

export type TomlNode = TomlScalar | TomlArray | TomlTable | TomlTables;

export interface TomlMember {
  readonly node: TomlNode;
  /** The `key = value` that brings this member itself (not one inside it). */
  readonly entry?: TomlEntry;
}

/** One `key = value`, in a section or in an inline table. */
export interface TomlEntry {
  readonly span: Span;
  readonly valueSpan: Span;
  readonly inside: TomlSection | TomlInline;
  readonly index: number;
}

/** The lines under one header, or those above the first. */
export interface TomlSection {
  readonly kind: 'section';
  /** The header with its brackets; undefined for the lines above the first header. */
  readonly header: Span | undefined;
  readonly ofArray: boolean;
  readonly entries: TomlEntry[];
  /** Offset at which the next header starts, or the text's end. */
  limit: number;
}

export interface TomlInline {
  readonly kind: 'inline';
  readonly span: Span;
  readonly entries: TomlEntry[];
}

/**
 * `section` and `inline`: keys go there, with the prefix of a dotted key before them, after `last` if there is one.
 * `none`: a table that exists only since a table in it has a header.
 */
export type TomlHome =
  | { readonly kind: 'section'; readonly section: TomlSection; readonly prefix: readonly string[]; last?: TomlEntry }
  | { readonly kind: 'inline'; readonly inline: TomlInline; readonly prefix: readonly string[]; last?: TomlEntry }
  | { readonly kind: 'none' };

export interface TomlDocument {
  readonly root: TomlTable;
  /** In file order; the first is that above the first header. */
  readonly sections: readonly TomlSection[];
}
