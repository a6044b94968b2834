import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Span } from '../../text/span.ts';
import type { Change, Changed, ChangeResult, KeyPlace, Style, Syntax, SyntaxValue, Tree } from '../contract.ts';
import { LinePlan } from '../shared/line-plan.ts';
import { escapePropertyKey, escapePropertyValue, unescapeProperty } from './properties-escapes.ts';

interface Property {
  readonly name: string;
  readonly value: string;
  readonly start: number;
  readonly next: number;
  readonly span: Span;
  readonly valueSpan: Span;
  readonly separator: string;
}

const blank = (c: string): boolean => c === ' ' || c === '\t' || c === '\f';

/** Logical lines: a line end behind an odd number of backslashes continues, except in comments. */
function readProperties(text: string): readonly Property[] {
  const found: Property[] = [];
  let at = text.startsWith('\ufeff') ? 1 : 0;
  while (at < text.length) {
    const start = at;
    let first = at;
    while (first < text.length && blank(text.charAt(first))) first += 1;
    const comment = text.charAt(first) === '#' || text.charAt(first) === '!';
    let end = first;
    let escaped = false;
    for (; end < text.length; end++) {
      const c = text.charAt(end);
      if (c === '\r' || c === '\n') {
        if (!escaped || comment) break;
        if (c === '\r' && text.charAt(end + 1) === '\n') end += 1;
        escaped = false;
        continue;
      }
      escaped = c === '\\' && !escaped;
    }
    const next = end >= text.length ? end : text.charAt(end) === '\r' && text.charAt(end + 1) === '\n' ? end + 2 : end + 1;
    if (!comment && end > first) found.push(readProperty(text, { start, next, first, end }));
    at = next;
  }
  return found;
}

function readProperty(text: string, line: { readonly start: number; readonly next: number; readonly first: number; readonly end: number }): Property {
  let keyEnd = line.first;
  while (keyEnd < line.end) {
    const c = text.charAt(keyEnd);
    if (c === '=' || c === ':' || blank(c)) break;
    if (c === '\\') keyEnd += text.startsWith('\r\n', keyEnd + 1) ? 2 : 1;
    keyEnd += 1;
  }
  keyEnd = Math.min(keyEnd, line.end);
  let valueStart = keyEnd;
  const skip = (): void => {
    for (;;) {
      while (valueStart < line.end && blank(text.charAt(valueStart))) valueStart += 1;
      // A continuation right behind the separator belongs to the gap.
      const more = /^\\(\r\n|\n|\r)/.exec(text.slice(valueStart, valueStart + 3));
      if (more === null || valueStart + more[0].length > line.end) return;
      valueStart += more[0].length;
    }
  };
  skip();
  if (text.charAt(valueStart) === '=' || text.charAt(valueStart) === ':') {
    if (valueStart < line.end) {
      valueStart += 1;
      skip();
    }
  }
  return {
    name: unescapeProperty(text.slice(line.first, keyEnd)),
    value: unescapeProperty(text.slice(valueStart, line.end)),
    start: line.start,
    next: line.next,
    span: { start: line.first, end: line.end },
    valueSpan: { start: valueStart, end: line.end },
    separator: text.slice(keyEnd, valueStart),
  };
}

class PropertiesTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly all: readonly Property[];
  readonly byName = new Map<string, Property[]>();

  constructor(source: SourceText, style: Style) {
    this.source = source;
    this.style = style;
    this.all = readProperties(source.text);
    for (const property of this.all) {
      const known = this.byName.get(property.name);
      if (known === undefined) this.byName.set(property.name, [property]);
      else known.push(property);
    }
  }

  effective(name: string): Property | undefined {
    const lines = this.byName.get(name);
    return this.style.duplicates === 'first' ? lines?.[0] : lines?.at(-1);
  }

  keys(): readonly KeyPlace[] {
    return [...this.byName.keys()].flatMap((name) => this.find(name) ?? []).sort((a, b) => a.span.start - b.span.start);
  }

  get(path: string): SyntaxValue | undefined {
    const property = this.effective(path);
    return property === undefined ? undefined : { kind: 'scalar', text: property.value };
  }

  find(path: string): KeyPlace | undefined {
    const property = this.effective(path);
    return property === undefined ? undefined : { path: property.name, span: property.span, valueSpan: property.valueSpan };
  }
}

function ownTree(tree: Tree): PropertiesTree {
  if (tree instanceof PropertiesTree) return tree;
  throw new Error('A tree of another syntax was given to properties. This is a bug in thumbwright.');
}

function neighbour(tree: PropertiesTree, name: string): Property | undefined {
  const parts = name.split(/[-_.]/);
  let best: Property | undefined;
  let most = 1;
  for (const property of tree.all) {
    const other = property.name.split(/[-_.]/);
    let common = 0;
    while (common < parts.length && common < other.length && parts[common] === other[common]) common += 1;
    if (common >= most) {
      most = common;
      best = property;
    }
  }
  return best ?? tree.all.at(-1);
}

function changeProperties(tree: PropertiesTree, changes: readonly Change[]): Changed {
  const { source, style } = tree;
  const plan = new LinePlan(source.text, style.lineEnd);
  const results: ChangeResult[] = changes.map(() => ({ kind: 'unchanged' }));
  const last = new Map(changes.map((change, index) => [change.path, index]));
  for (const [path, index] of last) {
    const change = changes[index];
    if (change === undefined) continue;
    const there = tree.byName.get(path) ?? [];
    if (change.op === 'remove') {
      for (const property of there) plan.cut({ start: property.start, end: property.next });
      if (there.length > 0) results[index] = { kind: 'changed' };
      continue;
    }
    const value = change.value.kind === 'scalar' ? change.value.text : style.list === undefined ? undefined : change.value.items.map((item) => item.text).join(style.list);
    if (value === undefined) {
      const end = source.text.length;
      results[index] = {
        kind: 'refused',
        finding: makeFinding('value-not-carried', { place: { source, span: { start: end, end } }, detail: `The key ${JSON.stringify(path)}: a list needs a separator, and the style names none.`, wayOut: 'Name the separator under style: list.' }),
      };
      continue;
    }
    const property = tree.effective(path);
    if (property !== undefined) {
      if (property.value === value) continue;
      const lead = property.separator === '' && value !== '' ? (style.separator ?? '=') : '';
      plan.replace({ span: property.valueSpan, text: lead + escapePropertyValue(value) });
    } else {
      const near = neighbour(tree, path);
      const plain = near?.separator !== undefined && /^[ \t]*[=: ][ \t]*$/.test(near.separator) ? near.separator : undefined;
      plan.insert(near?.next ?? source.text.length, [escapePropertyKey(path) + (style.separator ?? plain ?? '=') + escapePropertyValue(value)]);
    }
    results[index] = { kind: 'changed' };
  }
  return { edits: plan.finish(), results };
}

/**
 * Java properties, by the published text of java.util.Properties.load(Reader) (Java SE 17): `=`, `:` or a blank parts
 * key and value, `#` and `!` begin comments, a backslash escapes or continues; blanks at a value's end are part of it.
 * A key's path is its name, escapes taken off.
 */
export const properties: Syntax = {
  name: 'properties',
  parse: (source, style) => ({ tree: new PropertiesTree(source, style), findings: [] }),
  change: (tree, changes) => changeProperties(ownTree(tree), changes),
  badPath: () => undefined,
  escape: escapePropertyValue,
};
