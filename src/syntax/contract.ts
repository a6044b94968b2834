import type { Finding } from '../diagnostics/finding.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Span } from '../text/span.ts';
import type { TextEdit } from '../text/text-edit.ts';

/**
 * What a key holds, as the program that owns the file reads it: quotes, escapes and comments taken off.
 * `literal` tells a bare `true`, `12` or `null` from the string "true" in syntaxes that know the difference
 * (json, toml, yaml); elsewhere it is never set.
 */
export type SyntaxValue =
  | { readonly kind: 'scalar'; readonly text: string; readonly literal?: boolean }
  | { readonly kind: 'list'; readonly items: readonly { readonly text: string; readonly literal?: boolean }[] };

/**
 * How a dialect says that its files are written. Every member is optional; what is absent is detected from the
 * text, else the syntax's common default. Which members a syntax heeds is told in its own file.
 */
export interface Style {
  /** pairs, ini: what stands between key and value, blanks included: `" = "`, `": "`, `"="`, `" "`. lines: what ends the key. */
  readonly separator?: string;
  /** pairs, ini, lines: what begins a comment line; several are tried in order. */
  readonly comment?: string | readonly string[];
  /** pairs, ini: whether a comment may follow a value on its line (after a blank). Default false. */
  readonly inlineComments?: boolean;
  /** pairs, ini: quotes around values. `keep` (default) writes as the neighbours are written. */
  readonly quote?: 'none' | 'single' | 'double' | 'keep';
  /** pairs, ini: what joins the items of a list value in one text: `","`, `" "`. */
  readonly list?: string;
  /** pairs, ini, properties: which of several lines with one key the program reads, or `error`. Default `last`. */
  readonly duplicates?: 'first' | 'last' | 'error';
  /** pairs, ini: a trailing character that continues a value on the next line, usually `"\\"`. */
  readonly continuation?: string;
  /** ini: whether sections of one name are one section (`merge`) or the first or last counts. Default `merge`. */
  readonly sections?: 'merge' | 'first' | 'last';
  /** pairs, ini: whether key (and section) names are compared without case. Default false. */
  readonly foldCase?: boolean;
  /** json: comments and trailing commas are allowed. Default: as the text has them. */
  readonly relaxed?: boolean;
  /** Line end for text of ours where the file has none to follow. Default `lf`. */
  readonly lineEnd?: 'lf' | 'crlf';
  /** xml, json, yaml: indent of one level. Default: as the text has it. */
  readonly indent?: string;
  /** records: where a new one goes among its siblings. Default `end`. */
  readonly siblings?: 'end' | 'start' | 'sorted';
}

/** One key with its place. `path` is in the syntax's own key language and, given to `get`, names this key. */
export interface KeyPlace {
  readonly path: string;
  /** The whole of the key's text: line, element or member. */
  readonly span: Span;
  /** The value's text, quotes included. Empty span where the key has no value. */
  readonly valueSpan: Span;
}

/** A parsed text. It keeps every byte (`source.text` is the print), and is never changed. */
export interface Tree {
  readonly source: SourceText;
  readonly style: Style;
  /** Every key that `get` can name, in file order, duplicates by the style's rule. */
  keys(): readonly KeyPlace[];
  /** The key's value, or undefined when the key is not there. A path that is malformed: undefined as well. */
  get(path: string): SyntaxValue | undefined;
  /** The key's place, or undefined. */
  find(path: string): KeyPlace | undefined;
}

/** One change asked of a text. A `set` to what the key already holds, by value, makes no edit. */
export type Change =
  | { readonly op: 'set'; readonly path: string; readonly value: SyntaxValue }
  | { readonly op: 'remove'; readonly path: string };

/** The outcome of one change, in the order asked. */
export type ChangeResult =
  | { readonly kind: 'unchanged' }
  | { readonly kind: 'changed' }
  | { readonly kind: 'refused'; readonly finding: Finding };

export interface Changed {
  /** Sorted, disjoint, offsets of `tree.source.text`. Refused changes contribute none. */
  readonly edits: readonly TextEdit[];
  readonly results: readonly ChangeResult[];
}

/** Repeated elements: found by a field, added in the right place, removed, a field set (issue "syntaxes"). */
export interface RecordPlace {
  readonly span: Span;
  readonly fields: ReadonlyMap<string, string>;
  /** Where the values of those fields stand, or the elements that hold them. */
  readonly places: ReadonlyMap<string, Span>;
}

export type RecordChange =
  /**
   * Finds the record whose `by` field holds `is`, adding it when absent, and sets the other fields. A field that is
   * given undefined is taken out; for such fields alone no record is added.
   */
  | {
      readonly op: 'put';
      readonly by: string;
      readonly is: string;
      readonly fields: ReadonlyMap<string, SyntaxValue | undefined>;
    }
  | { readonly op: 'drop'; readonly by: string; readonly is: string };

/**
 * A configuration file's format. Parsing never throws: a text that cannot be read gives `tree: undefined` and
 * findings with places. All offsets are UTF-16 units. Every operation is linear in the text and the changes.
 */
export interface Syntax {
  readonly name: SyntaxName;
  parse(source: SourceText, style: Style): { readonly tree: Tree | undefined; readonly findings: readonly Finding[] };
  /**
   * Several changes at once (the last of two sets of one path wins). What is not named is not touched, not even
   * its blanks. A new key is written as its neighbours are, at the place a person would put it; missing parents
   * are made where the path determines them.
   */
  change(tree: Tree, changes: readonly Change[]): Changed;
  /** Is the path well formed in this syntax's key language? A sentence of what is wrong, or undefined. */
  badPath(path: string): string | undefined;
  /** Escapes a value for a template that writes this syntax (inside the quotes the template has). */
  escape(value: string): string;
  /** Repeated records below `at` (a path whose last element repeats). Undefined where the syntax has none. */
  readonly records?: RecordSyntax;
}

export interface RecordSyntax {
  /** Can `at` name repeated elements? What is wrong with it, or undefined. */
  badAt(at: string): string | undefined;
  /** The same for a field, which is a path within one record. */
  badField(field: string): string | undefined;
  list(tree: Tree, at: string, fields: readonly string[]): readonly RecordPlace[];
  change(tree: Tree, at: string, changes: readonly RecordChange[]): Changed;
}

export type SyntaxName = 'pairs' | 'ini' | 'xml' | 'json' | 'toml' | 'yaml' | 'properties' | 'lines' | 'template';
