import { CST, Composer, Parser, isAlias, isMap, isScalar } from 'yaml';
import type { Alias, ParsedNode, Pair, Scalar, YAMLMap, YAMLSeq } from 'yaml';
import type { Span } from '../../text/span.ts';
import { lineEndAfter } from '../shared/line-plan.ts';
import type {
  Hole,
  YamlDocument,
  YamlItem,
  YamlMap,
  YamlNode,
  YamlPair,
  YamlScalar,
  YamlSeq,
  YamlStyle,
  YamlTag,
} from './yaml-model.ts';

/** Deeper nesting is refused: the library's composer recurses. */
export const yamlDepth = 200;
/** UTF-16 units of a whole text: a configuration file of more is no configuration file. */
export const yamlSize = 8_388_608;

export type ReadYaml =
  | { readonly kind: 'read'; readonly document: YamlDocument }
  | { readonly kind: 'bad'; readonly why: string; readonly at: number }
  | { readonly kind: 'too-deep' | 'too-large'; readonly at: number };

/** Reads YAML 1.2 (core schema) into nodes that know their places. Aliases are resolved by reference. Never throws. */
export function readYaml(text: string): ReadYaml {
  if (!text.startsWith('\ufeff')) return readWithoutMark(text);
  // The library takes a byte-order mark for a column of the first line.
  const read = readWithoutMark(text.slice(1));
  if (read.kind !== 'read') return { ...read, at: read.at + 1 };
  const { root, rootAt, several } = read.document;
  if (root !== undefined) shift(root, new Set());
  return { kind: 'read', document: { root, rootAt: rootAt + 1, several } };
}

function readWithoutMark(text: string): ReadYaml {
  if (text.length > yamlSize) return { kind: 'too-large', at: 0 };
  const loneReturn = /\r(?!\n)/.exec(text);
  if (loneReturn !== null) {
    return {
      kind: 'bad',
      why: 'A carriage return stands alone here, which readers of YAML take differently',
      at: loneReturn.index,
    };
  }
  const tokens = [...new Parser().parse(text)];
  const twice = secondVersion(tokens);
  if (twice !== undefined)
    return { kind: 'bad', why: 'A document has one %YAML line, and this is a second', at: twice };
  const deep = tooDeep(tokens);
  if (deep !== undefined) return { kind: 'too-deep', at: deep };
  // Keys are compared here and not by the library, whose comparison takes quadratic time.
  const composer = new Composer({
    keepSourceTokens: true,
    version: '1.2',
    schema: 'core',
    uniqueKeys: false,
    prettyErrors: false,
    resolveKnownTags: false,
    merge: false,
    logLevel: 'silent',
  });
  const documents = [...composer.compose(tokens, true, text.length)];
  for (const document of documents) {
    const [error] = document.errors;
    if (error !== undefined)
      return (
        unclosedQuote(text, tokens) ?? { kind: 'bad', why: error.message, at: Math.min(error.pos[0], text.length) }
      );
  }
  const [first] = documents;
  if (first === undefined) throw new Error('The YAML composer made no document. This is a bug in thumbwright.');
  const builder = new Builder(text);
  const contents = first.contents;
  const written = contents !== null && !isEmptyRoot(contents);
  const root = written ? builder.node(contents, undefined) : undefined;
  if (builder.problem !== undefined) return { kind: 'bad', ...builder.problem };
  return { kind: 'read', document: { root, rootAt: rootPlace(text, tokens), several: documents.length > 1 } };
}

function isEmptyRoot(contents: ParsedNode): boolean {
  return (
    isScalar(contents) && contents.value === null && (contents.source ?? '') === '' && contents.anchor === undefined
  );
}

/** The end of the last line that is not blank, before a document end mark. */
function rootPlace(text: string, tokens: readonly CST.Token[]): number {
  const mark = tokens.find((token) => token.type === 'doc-end');
  const limit = mark?.offset ?? text.length;
  let at = 0;
  let end = at;
  while (at < limit) {
    const next = lineEndAfter(text, at);
    if (text.slice(at, next).trim() !== '') end = Math.min(next, limit);
    at = next;
  }
  return end;
}

/** A second `%YAML` line of one document (YAML 1.2.2, 6.8.1), which the library lets pass. */
function secondVersion(tokens: readonly CST.Token[]): number | undefined {
  let seen = false;
  for (const token of tokens) {
    if (token.type === 'document') seen = false;
    if (token.type !== 'directive' || !token.source.startsWith('%YAML')) continue;
    if (seen) return token.offset;
    seen = true;
  }
  return undefined;
}

/** Where nesting first passes `yamlDepth`, found without recursion. */
/** A quote that never closes runs to the end of the text, where the library places it; a person looks where it opens. */
function unclosedQuote(
  text: string,
  tokens: readonly CST.Token[],
): { kind: 'bad'; why: string; at: number } | undefined {
  let at: number | undefined;
  for (const token of tokens) {
    if (token.type !== 'document') continue;
    CST.visit(token, ({ key, value }) => {
      for (const part of [key, value]) {
        if (part?.type !== 'double-quoted-scalar' && part?.type !== 'single-quoted-scalar') continue;
        const { source, offset } = part;
        const closed = source.startsWith('"') ? /^"(?:[^"\\]|\\[^])*"$/ : /^'(?:[^']|'')*'$/;
        if (offset + source.length === text.length && !closed.test(source)) at = offset;
      }
    });
  }
  return at === undefined ? undefined : { kind: 'bad', why: 'A quote opens here and is not closed', at };
}

function tooDeep(tokens: readonly CST.Token[]): number | undefined {
  const stack: { token: CST.Token; depth: number }[] = tokens.map((token) => ({ token, depth: 0 }));
  while (stack.length > 0) {
    const top = stack.pop();
    if (top === undefined) break;
    const { token, depth } = top;
    if (depth > yamlDepth) return 'offset' in token ? token.offset : 0;
    if (token.type === 'document' && token.value !== undefined) stack.push({ token: token.value, depth });
    if (!('items' in token)) continue;
    for (const item of token.items) {
      if (item.key !== undefined && item.key !== null) stack.push({ token: item.key, depth: depth + 1 });
      if (item.value !== undefined) stack.push({ token: item.value, depth: depth + 1 });
    }
  }
  return undefined;
}

type Item = CST.CollectionItem;

const styles: Readonly<Record<string, YamlStyle>> = {
  PLAIN: 'plain',
  QUOTE_SINGLE: 'single',
  QUOTE_DOUBLE: 'double',
  BLOCK_LITERAL: 'literal',
  BLOCK_FOLDED: 'folded',
};

class Builder {
  problem: { readonly why: string; readonly at: number } | undefined;
  readonly #text: string;
  readonly #anchors = new Map<string, YamlNode>();

  constructor(text: string) {
    this.#text = text;
  }

  /** `properties`: the tokens before the value, among which its tag stands. */
  node(node: ParsedNode, properties: readonly CST.SourceToken[] | undefined): YamlNode {
    const span = { start: node.range[0], end: node.range[1] };
    const tag = this.#tag(properties, node, span.start);
    if (isAlias(node)) return this.#alias(node, span);
    if (isScalar(node)) return this.#scalar(node, span, tag);
    if (isMap(node)) return this.#map(node, span, tag);
    return this.#seq(node, span, tag);
  }

  #known<T extends YamlNode>(anchor: string | undefined, made: T): T {
    if (anchor !== undefined && anchor !== '') this.#anchors.set(anchor, made);
    return made;
  }

  #alias(node: Alias.Parsed, span: Span): YamlNode {
    const target = this.#anchors.get(node.source);
    if (target === undefined) {
      this.problem ??= { why: `No anchor before this alias has its name`, at: span.start };
      return this.empty(span.start);
    }
    target.shared = true;
    return {
      kind: 'alias',
      span: { start: span.start, end: span.start + node.source.length + 1 },
      shared: false,
      tag: undefined,
      target,
    };
  }

  #scalar(node: Scalar.Parsed, span: Span, tag: YamlTag | undefined): YamlScalar {
    const style = node.type === undefined ? 'plain' : (styles[node.type] ?? 'plain');
    const literal = typeof node.value !== 'string';
    const empty = style === 'plain' && node.source === '';
    const blockEnd = style === 'literal' || style === 'folded' ? this.#blockEnd(span) : span.end;
    return this.#known(node.anchor, {
      kind: 'scalar',
      span: { start: span.start, end: blockEnd },
      shared: false,
      tag,
      style: empty ? 'empty' : style,
      text: typeof node.value === 'string' ? node.value : empty ? 'null' : node.source,
      literal,
    });
  }

  /** A block scalar's range takes in its last line end, and blank lines that only count with `+`. */
  #blockEnd(span: Span): number {
    const lines = this.#text.slice(span.start, span.end).split('\n');
    const [header = '', ...body] = lines;
    if (lines.at(-1) === '') lines.pop();
    if (!/^[|>][0-9]*\+/.test(header)) {
      // With an explicit indent, only lines without anything in them are surely no content.
      const first = /^[|>][-+]?[0-9]/.test(header) ? '' : (body.find((line) => !/^ *\r?$/.test(line)) ?? '');
      const indent = /^ */.exec(first)?.[0].length ?? 0;
      const blank = (line: string): boolean => /^ *\r?$/.test(line) && line.replace('\r', '').length <= indent;
      while (lines.length > 1 && blank(lines.at(-1) ?? '')) lines.pop();
    }
    const end = span.start + lines.join('\n').length;
    return this.#text[end - 1] === '\r' ? end - 1 : end;
  }

  #map(node: YAMLMap.Parsed, span: Span, tag: YamlTag | undefined): YamlMap {
    const layout =
      node.flow === true ? (this.#text[span.start] === '{' && isFlow(node.srcToken) ? 'flow' : 'bare') : 'block';
    const map: YamlMap = this.#known(node.anchor, {
      kind: 'map',
      span,
      shared: false,
      tag,
      layout,
      pairs: [],
      members: new Map(),
    });
    for (const pair of node.items) this.#pair(map, pair);
    const last = map.pairs.at(-1);
    return layout === 'flow' || last === undefined
      ? map
      : Object.assign(map, { span: { start: span.start, end: last.span.end } });
  }

  #pair(map: YamlMap, pair: Pair<ParsedNode, ParsedNode | null>): void {
    const item = 'srcToken' in pair ? (pair.srcToken as Item | undefined) : undefined;
    const keyToken = item?.start.find(
      (token) =>
        token.type !== 'space' && token.type !== 'newline' && token.type !== 'comment' && token.type !== 'comma',
    );
    const sep = item?.sep ?? [];
    const { key } = pair;
    const colon = sep.find((token) => token.type === 'map-value-ind');
    const start = keyToken?.offset ?? key.range[0];
    const hole = holeOf(sep, colon) ?? { at: key.range[1], colon: false };
    // A key's own anchor counts; its value is read only for its name.
    const keyNode = this.node(key, item?.start);
    const value = atHole(pair.value === null ? this.empty(hole.at) : this.node(pair.value, sep), hole);
    const end = value.kind === 'scalar' && value.style === 'empty' ? Math.max(hole.at, key.range[1]) : value.span.end;
    const name = keyNode.kind === 'scalar' ? keyName(keyNode) : undefined;
    const keySpan = keyNode.span;
    const made: YamlPair = { name, keySpan, span: { start, end }, hole, value, index: map.pairs.length };
    map.pairs.push(made);
    if (name !== undefined) map.members.set(name, map.members.has(name) ? undefined : made);
  }

  #seq(node: YAMLSeq.Parsed, span: Span, tag: YamlTag | undefined): YamlSeq {
    const layout = node.flow === true ? 'flow' : 'block';
    const seq: YamlSeq = this.#known(node.anchor, { kind: 'seq', span, shared: false, tag, layout, items: [] });
    const tokens =
      node.srcToken !== undefined && 'items' in node.srcToken ? (node.srcToken.items as readonly Item[]) : [];
    const places =
      layout === 'block' ? tokens.filter((token) => token.start.some((t) => t.type === 'seq-item-ind')) : tokens;
    node.items.forEach((item, index) => seq.items.push(this.#item(item, places[index], layout)));
    const last = seq.items.at(-1);
    return layout === 'flow' || last === undefined
      ? seq
      : Object.assign(seq, { span: { start: span.start, end: last.span.end } });
  }

  #item(item: ParsedNode, token: Item | undefined, layout: 'block' | 'flow'): YamlItem {
    const start = token?.start ?? [];
    const dash = start.find((t) => t.type === 'seq-item-ind');
    const node = this.node(item, start);
    const hole = holeOf(start, dash) ?? { at: node.span.start, colon: true };
    const value = atHole(node, hole);
    const first =
      layout === 'block'
        ? dash
        : start.find((t) => t.type === 'anchor' || t.type === 'tag' || t.type === 'explicit-key-ind');
    const begin = first?.offset ?? value.span.start;
    const end = value.kind === 'scalar' && value.style === 'empty' ? hole.at : value.span.end;
    return { span: { start: begin, end }, hole, value };
  }

  #tag(properties: readonly CST.SourceToken[] | undefined, node: ParsedNode, valueStart: number): YamlTag | undefined {
    const token = properties?.findLast((t) => t.type === 'tag' && t.offset < valueStart + 1);
    if (token === undefined || node.tag === undefined) return undefined;
    let end = token.offset + token.source.length;
    while (this.#text[end] === ' ' || this.#text[end] === '\t') end += 1;
    const own = !/^tag:yaml\.org,2002:(?:str|int|float|bool|null|map|seq)$|^!$/.test(node.tag);
    return { span: { start: token.offset, end }, own };
  }

  empty(at: number): YamlScalar {
    const span = { start: at, end: at };
    return { kind: 'scalar', span, shared: false, tag: undefined, style: 'empty', text: 'null', literal: true };
  }
}

const isFlow = (token: CST.Token | undefined): boolean => token?.type === 'flow-collection';

function keyName(key: YamlScalar): string {
  return key.style === 'empty' ? '' : key.text;
}

/** The library places a value that is not written anywhere up to the next token. */
function atHole(node: YamlNode, hole: Hole): YamlNode {
  const empty = node.kind === 'scalar' && node.style === 'empty';
  return empty ? Object.assign(node, { span: { start: hole.at, end: hole.at } }) : node;
}

const later = (span: Span): Span => ({ start: span.start + 1, end: span.end + 1 });

/** Moves all places of a node by the one character of a byte-order mark. */
function shift(node: YamlNode, done: Set<YamlNode>): void {
  if (done.has(node)) return;
  done.add(node);
  const tag = node.tag === undefined ? undefined : { ...node.tag, span: later(node.tag.span) };
  Object.assign(node, { span: later(node.span), tag });
  if (node.kind === 'map') for (const pair of node.pairs) Object.assign(pair, { keySpan: later(pair.keySpan) });
  const places = node.kind === 'map' ? node.pairs : node.kind === 'seq' ? node.items : [];
  for (const place of places) {
    Object.assign(place, { span: later(place.span), hole: { ...place.hole, at: place.hole.at + 1 } });
    shift(place.value, done);
  }
}

/** After an indicator, and after tags and anchors on its line. */
function holeOf(tokens: readonly CST.SourceToken[], indicator: CST.SourceToken | undefined): Hole | undefined {
  if (indicator === undefined) return undefined;
  let at = indicator.offset + indicator.source.length;
  for (const token of tokens) {
    if (token.offset < at) continue;
    if (token.type === 'anchor' || token.type === 'tag') at = token.offset + token.source.length;
  }
  return { at, colon: true };
}
