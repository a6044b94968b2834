import { plainText } from '../model/plain-text.ts';
import type { KeyChange, Work } from './apply-input.ts';
import type { Change as SyntaxChange, RecordPlace, Style, Syntax, SyntaxValue, Tree } from '../syntax/contract.ts';
import { syntaxes } from '../syntax/registry.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import { applyEdits } from '../text/text-edit.ts';

export interface KeysBack {
  /** The file without what we wrote into it. */
  readonly bytes: Uint8Array;
  /** Keys of ours that hold something else by now, and stay. */
  readonly kept: readonly string[];
}

/**
 * Takes our keys, and nothing else, out of a file that was changed after we wrote it. A key that no longer holds what we
 * wrote stays. Undefined: the file cannot be read any more, so all of it stays.
 */
export function keysBack(bytes: Uint8Array, name: string, keys: NonNullable<Work['keys']>): KeysBack | undefined {
  const syntax = syntaxes[keys.syntax];
  let text = decodeBytes(bytes);
  const kept: string[] = [];
  const parse = (): Tree | undefined => syntax.parse({ name, text }, keys.style).tree;
  const tree = parse();
  if (tree === undefined) return undefined;
  const plain = keys.changes.filter(({ record }) => record === undefined);
  const asked: { readonly key: string; readonly change: SyntaxChange }[] = [];
  for (const { key, before, after } of plain) {
    const now = tree.get(key);
    if (sameValue(now, before)) continue;
    if (!sameValue(now, after)) kept.push(key);
    else
      asked.push({
        key,
        change: before === undefined ? { op: 'remove', path: key } : { op: 'set', path: key, value: before },
      });
  }
  const changed = syntax.change(
    tree,
    asked.map(({ change }) => change),
  );
  changed.results.forEach((result, index) => {
    if (result.kind === 'refused') kept.push(asked[index]?.key ?? '');
  });
  text = applyEdits(text, changed.edits);
  for (const change of keys.changes) {
    if (change.record === undefined) continue;
    const back = fieldBack(syntax, keys.style, name, text, change, change.record);
    if (back === undefined) kept.push(change.key);
    else text = back;
  }
  return { bytes: encodeText(text), kept };
}

/** The text with one field of a record as it was; undefined where that cannot be. */
function fieldBack(
  syntax: Syntax,
  style: Style,
  name: string,
  text: string,
  { before, after }: KeyChange,
  { at, by, is, field }: NonNullable<KeyChange['record']>,
): string | undefined {
  const { tree } = syntax.parse({ name, text }, style);
  if (tree === undefined || syntax.records === undefined) return undefined;
  const found: RecordPlace | undefined = syntax.records
    .list(tree, at, [by, field])
    .find(({ fields }) => fields.get(by) === is);
  const now = found?.fields.get(field);
  if (now === textOf(before)) return text;
  if (now !== textOf(after)) return undefined;
  // A record can be given a field, not lose one: an empty text is not the same as none.
  if (before === undefined) return undefined;
  const put = syntax.records.change(tree, at, [{ op: 'put', by, is, fields: new Map([[field, before]]) }]);
  return put.results.some(({ kind }) => kind === 'refused') ? undefined : applyEdits(text, put.edits);
}

function textOf(value: SyntaxValue | undefined): string | undefined {
  return value === undefined ? undefined : plainText(value);
}

/** What a program reads is one: a literal and a text of the same letters are not. */
function sameValue(a: SyntaxValue | undefined, b: SyntaxValue | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  const items = (value: SyntaxValue): readonly { readonly text: string; readonly literal?: boolean }[] =>
    value.kind === 'scalar' ? [value] : value.items;
  const [left, right] = [items(a), items(b)];
  return (
    a.kind === b.kind &&
    left.length === right.length &&
    left.every(({ text, literal }, index) => {
      const other = right[index];
      return other?.text === text && (other.literal ?? false) === (literal ?? false);
    })
  );
}
