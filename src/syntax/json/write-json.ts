import type { SyntaxValue } from '../contract.ts';
import type { JsonLayout } from './json-layout.ts';

/** A value that is not in the text yet: a leaf, or an object that a path goes through. */
export type NewValue =
  | { readonly kind: 'leaf'; readonly value: SyntaxValue }
  | { readonly kind: 'object'; readonly members: ReadonlyMap<string, NewValue> }
  | { readonly kind: 'array'; readonly items: readonly NewValue[] };

/** RFC 8259 section 6, and the three literal names of section 3. */
const literal = /^(?:true|false|null|-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)$/;

/** The first item that JSON cannot carry: a literal that is no JSON literal. Every string can be carried. */
export function uncarried(value: SyntaxValue): string | undefined {
  const items = value.kind === 'scalar' ? [value] : value.items;
  return items.find((item) => item.literal === true && !literal.test(item.text))?.text;
}

function writeString(text: string): string {
  // JSON.stringify is well formed: lone surrogates, our stand-ins for bytes that are not UTF-8, become \u escapes.
  return JSON.stringify(text);
}

export function writeScalar(item: { readonly text: string; readonly literal?: boolean }): string {
  return item.literal === true ? item.text : writeString(item.text);
}

/** @param indent of the line on which the value begins; undefined writes it on one line. */
export function writeNew(value: NewValue, layout: JsonLayout, indent: string | undefined): string {
  const inner = indent === undefined ? undefined : indent + layout.unit;
  if (value.kind === 'leaf') {
    if (value.value.kind === 'scalar') return writeScalar(value.value);
    const items = value.value.items.map(writeScalar);
    return inner === undefined || !layout.listLines || items.length === 0
      ? `[${items.join(`,${layout.gap}`)}]`
      : `[${items.map((item) => layout.eol + inner + item).join(',')}${layout.eol}${indent}]`;
  }
  if (value.kind === 'array') {
    const items = value.items.map((item) => writeNew(item, layout, inner));
    return inner === undefined
      ? `[${items.join(`,${layout.gap}`)}]`
      : `[${items.map((item) => layout.eol + inner + item).join(',')}${layout.eol}${indent}]`;
  }
  const members = [...value.members].map(([name, member]) => writeMember(name, member, layout, inner));
  return inner === undefined
    ? `{${layout.pad}${members.join(`,${layout.gap}`)}${layout.pad}}`
    : `{${members.map((member) => layout.eol + inner + member).join(',')}${layout.eol}${indent}}`;
}

export function writeMember(name: string, value: NewValue, layout: JsonLayout, indent: string | undefined): string {
  return writeString(name) + layout.colon + writeNew(value, layout, indent);
}
