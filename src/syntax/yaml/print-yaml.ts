import type { YamlStyle } from './yaml-model.ts';
import { doubleQuoted, isPlainSafe, writeYamlScalar } from './yaml-scalar.ts';
import type { WrittenYaml } from './yaml-scalar.ts';
import type { YamlValue } from './yaml-value.ts';

/** How a text lays out what is new in it. */
export interface YamlLayout {
  /** Columns by which a mapping is indented below its key. */
  readonly step: number;
  /** The same for a sequence; 0 where dashes stand under the key's first letter. */
  readonly sequenceStep: number;
  /** `{ a: 1 }` and not `{a: 1}`. */
  readonly padded: boolean;
  /** Lists of a new key stand in brackets on its line. */
  readonly flowLists: boolean;
}

export interface PrintSpot {
  readonly flow: boolean;
  /** How strings beside the new value are quoted. */
  readonly like: YamlStyle | undefined;
  readonly quotedKeys: boolean;
}

/** A key as it stands before its colon. YAML limits keys without `?` to 1,024 characters. */
export function printYamlKey(name: string, spot: PrintSpot): WrittenYaml {
  if (name.length > 1000) return { kind: 'cannot', why: 'A key of YAML has at most 1,024 characters.' };
  const written = writeYamlScalar({ text: name }, { flow: spot.flow, like: undefined });
  if (written.kind === 'cannot') return written;
  return { kind: 'text', text: spot.quotedKeys || !isPlainSafe(name, spot.flow) ? doubleQuoted(name) : name };
}

/** A value on one line, collections in brackets. */
export function printInline(value: YamlValue, spot: PrintSpot, layout: YamlLayout): WrittenYaml {
  if (value.kind === 'scalar') return writeYamlScalar(value, spot);
  const parts: string[] = [];
  const inside = { ...spot, flow: true };
  const entries: readonly (readonly [string | undefined, YamlValue])[] =
    value.kind === 'list' ? value.items.map((item) => [undefined, item] as const) : value.members;
  for (const [name, item] of entries) {
    const key = name === undefined ? undefined : printYamlKey(name, inside);
    if (key?.kind === 'cannot') return key;
    const text = printInline(item, inside, layout);
    if (text.kind === 'cannot') return text;
    parts.push(key === undefined ? text.text : `${key.text}: ${text.text}`);
  }
  const joined = parts.join(', ');
  if (value.kind === 'list') return { kind: 'text', text: `[${joined}]` };
  return { kind: 'text', text: layout.padded && joined !== '' ? `{ ${joined} }` : `{${joined}}` };
}

export type PrintedLines =
  { readonly kind: 'lines'; readonly lines: readonly string[] } | { readonly kind: 'cannot'; readonly why: string };

/** Whether a value is written on lines of its own: a mapping, or a list of more than plain values. */
export function wantsLines(value: YamlValue, layout: YamlLayout): boolean {
  if (value.kind === 'scalar') return false;
  if (value.kind === 'map') return value.members.length > 0;
  return value.items.length > 0 && (!layout.flowLists || value.items.some((item) => item.kind !== 'scalar'));
}

const indentBy = (lines: readonly string[], columns: number): string[] =>
  lines.map((line) => (line === '' ? '' : ' '.repeat(columns) + line));

/** `key: value` on as many lines as it takes, the first at column 0. */
export function printMember(name: string, value: YamlValue, spot: PrintSpot, layout: YamlLayout): PrintedLines {
  const key = printYamlKey(name, spot);
  if (key.kind === 'cannot') return key;
  if (!wantsLines(value, layout)) {
    const text = printInline(value, spot, layout);
    return text.kind === 'cannot' ? text : { kind: 'lines', lines: [`${key.text}: ${text.text}`] };
  }
  const inside = printLines(value, { ...spot, quotedKeys: false }, layout);
  if (inside.kind === 'cannot') return inside;
  const step = value.kind === 'list' ? layout.sequenceStep : layout.step;
  return { kind: 'lines', lines: [`${key.text}:`, ...indentBy(inside.lines, step)] };
}

/** A value in block layout, its first column at 0. */
export function printLines(value: YamlValue, spot: PrintSpot, layout: YamlLayout): PrintedLines {
  if (!wantsLines(value, layout)) {
    const text = printInline(value, spot, layout);
    return text.kind === 'cannot' ? text : { kind: 'lines', lines: [text.text] };
  }
  const lines: string[] = [];
  if (value.kind === 'map') {
    for (const [name, member] of value.members) {
      const printed = printMember(name, member, spot, layout);
      if (printed.kind === 'cannot') return printed;
      lines.push(...printed.lines);
    }
  } else if (value.kind === 'list') {
    for (const item of value.items) {
      const printed = printLines(item, spot, layout);
      if (printed.kind === 'cannot') return printed;
      const [first = '', ...others] = printed.lines;
      lines.push(`- ${first}`, ...indentBy(others, 2));
    }
  }
  return { kind: 'lines', lines };
}
