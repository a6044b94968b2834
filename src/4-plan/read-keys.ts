import type { KeyText, RecordTarget } from '../model/compiled.ts';
import type { Style, Syntax, Tree } from '../syntax/contract.ts';
import { lineColumn } from '../text/line-index.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Span } from '../text/span.ts';
import { StandingRecords } from './standing-records.ts';

/** A key of a file or a field of a repeated element. */
export interface KeyPlaceIn {
  readonly key: string;
  readonly record?: RecordTarget;
}

/** Reads the keys of one parsed text, records listed once each. Of no text, nothing is there. */
export class KeyReader {
  readonly tree: Tree | undefined;
  private readonly syntax: Syntax;
  private readonly standing = new Map<string, StandingRecords>();

  constructor(syntax: Syntax, tree: Tree | undefined) {
    this.syntax = syntax;
    this.tree = tree;
  }

  get({ key, record }: KeyPlaceIn): KeyText | undefined {
    if (record === undefined) return this.tree?.get(key);
    const text = this.records(record)?.field(record);
    return text === undefined ? undefined : { kind: 'scalar', text };
  }

  /** The line, from 1, of a key, or of the record that it is a field of. */
  line({ key, record }: KeyPlaceIn): number | undefined {
    const span: Span | undefined =
      record === undefined ? this.tree?.find(key)?.span : this.records(record)?.find(record)?.span;
    return span === undefined || this.tree === undefined ? undefined : lineColumn(this.tree.source, span.start).line;
  }

  private records({ at }: RecordTarget): StandingRecords | undefined {
    if (this.tree === undefined) return undefined;
    let standing = this.standing.get(at);
    if (standing === undefined) this.standing.set(at, (standing = new StandingRecords(this.syntax, this.tree, at)));
    return standing;
  }
}

/** A reader of a text that may be missing or unreadable: then it has no keys. */
export function readKeys(syntax: Syntax, style: Style, source: SourceText | undefined): KeyReader {
  return new KeyReader(syntax, source === undefined ? undefined : syntax.parse(source, style).tree);
}
