import { isAlias, isMap, isScalar, isSeq, parseAllDocuments } from 'yaml';
import type { Document as YamlDocument, Node } from 'yaml';
import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Document } from '../model/document.ts';
import type { SourceText } from '../text/source-text.ts';
import type { FileKind } from './file-kind.ts';
import { guideOf, itemGuide, memberGuide, settle } from './guide-at.ts';
import type { Guide } from './guide-at.ts';
import { makeDocument, pointerStep } from './positions.ts';
import { readScalar } from './read-scalar.ts';
import { refuseText } from './refuse-text.ts';
import { shapeFindings } from './shape-findings.ts';
import { yamlErrorFindings } from './yaml-errors.ts';

/** Nesting of mappings and lists; a profile needs seven. */
const deepest = 100;
/** Values after aliases are unfolded; the largest file of the demo has some hundreds. */
const most = 20_000;

/** Names that a program may take for an object's own insides, whatever holds them. */
const reserved: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

interface Reading {
  readonly source: SourceText;
  readonly document: YamlDocument;
  readonly root: Guide;
  readonly positions: Map<string, readonly [number, number, number, number]>;
  readonly findings: Finding[];
  readonly anchors: Map<string, Node>;
  /** Anchors being unfolded, so that one that holds itself is seen. */
  readonly unfolding: Set<string>;
  values: number;
}

/**
 * YAML 1.2, one document, every value with its place. Scalars are taken by the kind that the schema wants at their
 * place: text from the source as it stands, so that `4.0` stays 4.0. Bounds: nesting 100, 20,000 values after aliases
 * are unfolded. `value` is undefined when the text cannot be read or is not of the kind's shape.
 */
export function readYaml<T>(source: SourceText, kind: FileKind): Outcome<Document<T> | undefined> {
  const refused = refuseText(source);
  if (refused.length > 0) return { value: undefined, findings: refused };
  let documents: readonly YamlDocument[];
  try {
    const parsed = parseAllDocuments(source.text, {
      schema: 'failsafe',
      uniqueKeys: false,
      merge: false,
      prettyErrors: false,
      logLevel: 'silent',
      strict: true,
    });
    documents = Array.isArray(parsed) ? parsed : [];
  } catch (error) {
    // The parser works by recursion: only nesting far beyond our bound gets here.
    if (!(error instanceof RangeError)) throw error;
    return { value: undefined, findings: [tooDeep(source, 0, source.text.length)] };
  }
  const [document, second] = documents;
  if (document === undefined)
    return {
      value: undefined,
      findings: [at(source, 'empty-file', 0, 0, 'Nothing is in the file.', `Begin it with ${kind}: NAME.`)],
    };
  const errors = yamlErrorFindings(source, document);
  if (errors.length > 0) return { value: undefined, findings: errors };
  if (second !== undefined) {
    const start = second.range?.[0] ?? source.text.length;
    return {
      value: undefined,
      findings: [
        at(
          source,
          'two-documents',
          start,
          start,
          'A file holds one document; another begins here.',
          'Move what follows to a file of its own, and remove the --- before it.',
        ),
      ],
    };
  }
  const root = guideOf(kind);
  const reading: Reading = {
    source,
    document,
    root,
    positions: new Map(),
    findings: [],
    anchors: new Map(),
    unfolding: new Set(),
    values: 0,
  };
  const data = readNode(reading, document.contents, root, '', 0);
  if (reading.findings.length > 0) return { value: undefined, findings: reading.findings };
  const findings = shapeFindings(source, kind, data, reading.positions);
  // The validator has just found it to be of this shape.
  const value = findings.some((finding) => finding.grade === 'error')
    ? undefined
    : makeDocument(source, data as T, reading.positions);
  return { value, findings };
}

function at(
  source: SourceText,
  code: Code,
  start: number,
  end: number,
  detail: string,
  wayOut: string,
  mend?: Finding['mend'],
): Finding {
  return makeFinding(code, {
    place: { source, span: { start, end } },
    detail,
    wayOut,
    ...(mend === undefined ? {} : { mend }),
  });
}

function tooDeep(source: SourceText, start: number, end: number): Finding {
  return at(
    source,
    'too-deep',
    start,
    end,
    `Mappings and lists are nested more than ${deepest} deep.`,
    'Take the nesting apart; no file of this tool needs it.',
  );
}

/** The failsafe schema makes every scalar a text. */
function plainScalar(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

function rangeOf(node: Node | null | undefined): readonly [number, number] {
  const range = node?.range;
  return range === undefined || range === null ? [0, 0] : [range[0], range[1]];
}

/** One node and all below it. `pointer` is where it stands; its key's range is set by the caller. */
function readNode(
  reading: Reading,
  node: unknown,
  guide: Guide | undefined,
  pointer: string,
  depth: number,
  keyRange: readonly [number, number] = [0, 0],
): unknown {
  const { source, findings } = reading;
  if (findings.length > 20) return null;
  reading.values += 1;
  if (reading.values > most) {
    if (reading.values === most + 1)
      findings.push(
        at(
          source,
          'too-many-aliases',
          ...rangeOf(isAlias(node) || isScalar(node) || isMap(node) || isSeq(node) ? node : undefined),
          `The file unfolds to more than ${most} values.`,
          'Use fewer aliases, or write out what they stand for where it differs.',
        ),
      );
    return null;
  }
  if (isAlias(node)) return readAlias(reading, node.source, rangeOf(node), guide, pointer, depth, keyRange);
  if (isScalar(node) || isMap(node) || isSeq(node)) {
    const range = rangeOf(node);
    reading.positions.set(pointer, [keyRange[0], keyRange[1], range[0], range[1]]);
    if (node.anchor !== undefined && node.anchor !== '') reading.anchors.set(node.anchor, node);
    if (node.tag !== undefined && /^(?!tag:yaml\.org,2002:(str|map|seq)$)/.test(node.tag)) {
      findings.push(
        at(
          source,
          'tag-refused',
          range[0],
          range[1],
          'A tag asks for a type of its own, and files here are plain data.',
          'Remove the tag (the word that begins with !).',
        ),
      );
      return null;
    }
    if (isScalar(node)) {
      const plain = node.type === 'PLAIN' || node.type === undefined;
      return readScalar(
        typeof node.source === 'string' ? (plain ? node.source : String(node.value)) : plainScalar(node.value),
        plain,
        guide,
      );
    }
    if (depth >= deepest) {
      findings.push(tooDeep(source, range[0], range[0] + 1));
      return null;
    }
    if (isSeq(node)) {
      const inner = itemGuide(guide, reading.root);
      return node.items.map((item, index) => readNode(reading, item, inner, pointer + pointerStep(index), depth + 1));
    }
    return readMap(reading, node.items, guide, pointer, depth);
  }
  // Nothing stands behind the key.
  reading.positions.set(pointer, [keyRange[0], keyRange[1], keyRange[1], keyRange[1]]);
  return readScalar('', true, guide);
}

function readAlias(
  reading: Reading,
  name: string,
  range: readonly [number, number],
  guide: Guide | undefined,
  pointer: string,
  depth: number,
  keyRange: readonly [number, number],
): unknown {
  const { source, findings } = reading;
  const target = reading.anchors.get(name);
  if (target === undefined || reading.unfolding.has(name)) {
    const what =
      target === undefined ? `Nothing before this is anchored as &${name}.` : `The value of &${name} holds itself.`;
    findings.push(
      at(
        source,
        target === undefined ? 'unknown-alias' : 'too-many-aliases',
        range[0],
        range[1],
        what,
        'Write the value here instead of the alias.',
      ),
    );
    return null;
  }
  reading.unfolding.add(name);
  const value = readNode(reading, target, guide, pointer, depth + 1, keyRange);
  reading.unfolding.delete(name);
  return value;
}

function readMap(
  reading: Reading,
  items: readonly { readonly key: unknown; readonly value: unknown }[],
  guide: Guide | undefined,
  pointer: string,
  depth: number,
): unknown {
  const { source, findings } = reading;
  // Without a prototype: no key of a stranger's file can be taken for an object's own insides.
  const data = Object.create(null) as Record<string, unknown>;
  const seen = new Map<string, readonly [number, number]>();
  for (const { key, value } of items) {
    if (!isScalar(key)) {
      const range = isMap(key) || isSeq(key) || isAlias(key) ? rangeOf(key) : ([0, 0] as const);
      const braces = source.text.slice(Math.max(0, range[0] - 1), range[0] + 1).includes('{');
      findings.push(
        braces
          ? at(
              source,
              'unquoted-braces',
              range[0],
              range[1],
              'YAML takes braces for a mapping, not for a template.',
              "Put the whole value in quotes: '{{root}}/name'.",
            )
          : at(
              source,
              'key-not-text',
              range[0],
              range[1],
              'A key is one plain text, not a list, mapping or alias.',
              'Write the key out.',
            ),
      );
      continue;
    }
    const [start, end] = rangeOf(key);
    const plain = key.type === 'PLAIN' || key.type === undefined;
    const name = plain && typeof key.source === 'string' ? key.source : plainScalar(key.value);
    if (plain && name === '<<') {
      findings.push(
        at(
          source,
          'merge-key',
          start,
          end,
          'Merge keys are no part of YAML 1.2.',
          'Write the members out, or put what is shared into the house and let layers merge it.',
        ),
      );
      continue;
    }
    if (reserved.has(name)) {
      findings.push(
        at(source, 'reserved-key', start, end, `${name} cannot be the name of anything here.`, 'Take another name.'),
      );
      continue;
    }
    const first = seen.get(name);
    if (first !== undefined) {
      findings.push(
        makeFinding('duplicate-key', {
          place: { source, span: { start, end } },
          related: [{ place: { source, span: { start: first[0], end: first[1] } }, note: 'first given here' }],
          detail: `${JSON.stringify(name)} is given twice in one mapping, and only one of them could hold.`,
          wayOut: 'Remove one of the two, or rename it.',
        }),
      );
      continue;
    }
    seen.set(name, [start, end]);
    data[name] = readNode(
      reading,
      value,
      settle(memberGuide(guide, name, reading.root), reading.root),
      pointer + pointerStep(name),
      depth + 1,
      [start, end],
    );
  }
  return data;
}
