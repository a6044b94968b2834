import type { RecordTarget } from '../model/compiled.ts';
import type { RecordPlace, Syntax, Tree } from '../syntax/contract.ts';

/** The records of one repeated element, found by what a field holds; listed once for each set of fields. */
export class StandingRecords {
  private readonly syntax: Syntax;
  private readonly tree: Tree;
  private readonly at: string;
  private readonly lists = new Map<string, Map<string, RecordPlace>>();

  constructor(syntax: Syntax, tree: Tree, at: string) {
    this.syntax = syntax;
    this.tree = tree;
    this.at = at;
  }

  /** The first record that is meant, with its identity's fields. */
  find({ by, is, identity }: RecordTarget): RecordPlace | undefined {
    return this.list([by, ...identity.keys()], by).get(is);
  }

  /** The record that is meant, with the field that is asked for and its identity's fields. */
  record({ by, is, field, identity }: RecordTarget): RecordPlace | undefined {
    return this.list([by, field, ...identity.keys()], by).get(is);
  }

  /** What a field of the first record that is meant holds. */
  field({ by, is, field }: RecordTarget): string | undefined {
    return this.list([by, field], by).get(is)?.fields.get(field);
  }

  private list(fields: readonly string[], by: string): Map<string, RecordPlace> {
    const key = JSON.stringify(fields);
    let list = this.lists.get(key);
    if (list === undefined) {
      this.lists.set(key, (list = new Map<string, RecordPlace>()));
      for (const record of this.syntax.records?.list(this.tree, this.at, fields) ?? []) {
        const held = record.fields.get(by);
        if (held !== undefined && !list.has(held)) list.set(held, record);
      }
    }
    return list;
  }
}
