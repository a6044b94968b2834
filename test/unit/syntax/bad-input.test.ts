// Bad input of every syntax: a finding with its place, and no edit. How each reads is shown in test/cases/syntax; here is
// what does not fit in a file that a person reads, and that nothing outside the text is touched.
import { createServer } from 'node:http';
import { mkdtempSync, rmSync, writeFileSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readSource } from '../../../src/1-load/find-file.ts';
import type { Code } from '../../../src/diagnostics/catalogue.ts';
import type { Finding } from '../../../src/diagnostics/finding.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { Style, SyntaxName, SyntaxValue } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const text = (value: string): SyntaxValue => ({ kind: 'scalar', text: value });
const names = Object.values(syntaxes).map(({ name }) => name);

/** Line and column of a finding, which lies in the text that was given. */
function placeOf({ place }: Finding, source: { readonly text: string }): string {
  if (place === undefined) throw new Error('The finding has no place.');
  expect(place.source).toBe(source);
  expect(place.span.start <= place.span.end && place.span.end <= source.text.length).toBe(true);
  const { line, column } = lineColumn(source, place.span.start);
  return `${line}:${column}`;
}

interface Unread {
  readonly syntax: SyntaxName;
  readonly text: string;
  readonly style?: Style;
  readonly code: Code;
  readonly at: string;
}

describe('a text that cannot be read', () => {
  const deep = 10_000;
  const unread: readonly Unread[] = [
    { syntax: 'json', text: '{"a": "b\n}', code: 'json-unreadable', at: '1:7' },
    { syntax: 'json', text: '{"a": [1, 2}', code: 'json-unreadable', at: '1:12' },
    { syntax: 'json', text: '{"a": 1 /* b', code: 'json-unreadable', at: '1:9' },
    { syntax: 'json', text: '['.repeat(deep), code: 'nested-too-deep', at: '1:2001' },
    { syntax: 'json', text: '{"a":'.repeat(deep), code: 'nested-too-deep', at: '1:10001' },
    { syntax: 'toml', text: 'a = "b\nc = 1\n', code: 'toml-unreadable', at: '1:7' },
    { syntax: 'toml', text: '[a\nb = 1\n', code: 'toml-unreadable', at: '2:1' },
    { syntax: 'toml', text: `a = ${'['.repeat(deep)}`, code: 'nested-too-deep', at: '1:10004' },
    { syntax: 'toml', text: `${'a.'.repeat(deep)}a = 1`, code: 'nested-too-deep', at: '1:1' },
    { syntax: 'yaml', text: 'a: "b\nc: 1\n', code: 'yaml-unreadable', at: '1:4' },
    { syntax: 'yaml', text: 'a: [1, 2\nb: 1\n', code: 'yaml-unreadable', at: '2:1' },
    { syntax: 'yaml', text: '['.repeat(deep), code: 'nested-too-deep', at: '1:202' },
    { syntax: 'yaml', text: '- '.repeat(deep), code: 'nested-too-deep', at: '1:403' },
    { syntax: 'xml', text: '<a><b></a>', code: 'xml-unreadable', at: '1:7' },
    { syntax: 'xml', text: '<a>\n<b>', code: 'xml-unreadable', at: '2:1' },
    { syntax: 'xml', text: '<a b="c></a>', code: 'xml-unreadable', at: '1:6' },
    { syntax: 'xml', text: '<a><!-- b </a>', code: 'xml-unreadable', at: '1:4' },
    { syntax: 'xml', text: '<a>&b;</a>', code: 'xml-unreadable', at: '1:4' },
    { syntax: 'xml', text: '<a>'.repeat(deep), code: 'nested-too-deep', at: '1:6001' },
    { syntax: 'pairs', text: 'a = "b\nc = 1\n', style: { quote: 'double' }, code: 'quote-unclosed', at: '1:5' },
    { syntax: 'pairs', text: 'a = 1\na = 2\n', style: { duplicates: 'error' }, code: 'key-given-twice', at: '2:1' },
    { syntax: 'ini', text: '[a]\nb = 1\n[c\n', code: 'section-unclosed', at: '3:1' },
    { syntax: 'properties', text: 'a = 1\nb = \\u12\n', code: 'escape-unreadable', at: '2:5' },
    { syntax: 'lines', text: 'a\nb\na\n', style: { duplicates: 'error' }, code: 'key-given-twice', at: '3:1' },
  ];
  it.each(unread.map((one) => [`${one.syntax} ${JSON.stringify(one.text.slice(0, 24))}`, one] as const))(
    '%s has one finding, with its place',
    (_name, { syntax, text, style, code, at }) => {
      const source = { name: 'file', text };
      const { tree, findings } = syntaxes[syntax].parse(source, style ?? {});
      expect(tree).toBeUndefined();
      expect(findings.map((finding) => [finding.code, placeOf(finding, source)])).toEqual([[code, at]]);
      expect(findings[0]?.wayOut).not.toBe('');
    },
  );
});

interface Refused {
  readonly syntax: SyntaxName;
  readonly text: string;
  readonly style?: Style;
  readonly path: string;
  readonly value?: SyntaxValue;
  readonly code: Code;
}

// A properties file carries every text under every name, by escapes, and knows one key for every path: it refuses none.
describe('a change that cannot be made', () => {
  const literal = (value: string): SyntaxValue => ({ kind: 'scalar', text: value, literal: true });
  const refused: readonly Refused[] = [
    { syntax: 'json', text: '{"a": 1}', path: '/b', value: literal('012'), code: 'value-not-carried' },
    { syntax: 'toml', text: 'a = 1\n', path: 'b', value: literal('null'), code: 'value-not-carried' },
    { syntax: 'toml', text: 'a = 1\n', path: 'b', value: text('\udce9'), code: 'value-not-carried' },
    { syntax: 'yaml', text: 'a: 1\n', path: 'b', value: text('\udce9'), code: 'value-not-carried' },
    { syntax: 'xml', text: '<a/>', path: '/a/b', value: text('\0'), code: 'value-not-carried' },
    { syntax: 'xml', text: '<a/>', path: '/a/b', value: { kind: 'list', items: [] }, code: 'value-not-carried' },
    { syntax: 'pairs', text: 'a = 1\n', path: 'b', value: text('c\nd'), code: 'value-not-carried' },
    { syntax: 'ini', text: '[a]\nb=1\n', path: '[a] c', value: text('c\nd'), code: 'value-not-carried' },
    { syntax: 'lines', text: 'a\n', path: 'b', value: text('absent'), code: 'value-not-carried' },
    { syntax: 'json', text: '{"a": 1}', path: '/a/b', code: 'key-not-determined' },
    { syntax: 'json', text: '{"a": []}', path: '/a/3', code: 'key-not-determined' },
    { syntax: 'toml', text: 'a = 1\n', path: 'a.b', code: 'key-not-determined' },
    { syntax: 'toml', text: 'a = [1]\n', path: 'a[3]', code: 'key-not-determined' },
    { syntax: 'yaml', text: 'a: [1]\n', path: 'a[3]', code: 'key-not-determined' },
    { syntax: 'xml', text: '<a>1</a>', path: '/a/b', code: 'key-not-determined' },
    { syntax: 'xml', text: '<a/>', path: '/a/b[3]', code: 'key-not-determined' },
    { syntax: 'template', text: 'a', path: 'a', code: 'file-wholly-ours' },
    { syntax: 'json', text: '{"a": 1}', path: 'a', code: 'bad-key-path' },
    { syntax: 'toml', text: 'a = 1\n', path: 'a..b', code: 'bad-key-path' },
    { syntax: 'yaml', text: 'a: 1\n', path: '"a', code: 'bad-key-path' },
    { syntax: 'xml', text: '<a/>', path: '/a[', code: 'bad-key-path' },
    { syntax: 'pairs', text: 'a = 1\n', path: '', code: 'bad-key-path' },
    { syntax: 'ini', text: '[a]\nb=1\n', path: '[a', code: 'bad-key-path' },
    { syntax: 'lines', text: 'a\n', path: '', code: 'bad-key-path' },
    { syntax: 'xml', text: '<a><b>1</b><b>2</b></a>', path: '/a/b', code: 'key-ambiguous' },
    { syntax: 'yaml', text: 'a: {b: 1}\na: {b: 2}\n', path: 'a.b', code: 'key-ambiguous' },
  ];
  it.each(refused.map((one) => [`${one.syntax}: ${one.code} for ${JSON.stringify(one.path)}`, one] as const))(
    '%s',
    (_name, { syntax, text: before, style, path, value, code }) => {
      const source = { name: 'file', text: before };
      const { tree } = syntaxes[syntax].parse(source, style ?? {});
      if (tree === undefined) throw new Error('The text cannot be read.');
      const { edits, results } = syntaxes[syntax].change(tree, [{ op: 'set', path, value: value ?? text('x') }]);
      expect(edits).toEqual([]);
      expect(results.map((result) => (result.kind === 'refused' ? result.finding.code : result.kind))).toEqual([code]);
      for (const result of results) if (result.kind === 'refused') placeOf(result.finding, source);
    },
  );
});

describe('a line of a megabyte', () => {
  const long = 'x'.repeat(1_000_000);
  const files: Readonly<Record<SyntaxName, { readonly text: string; readonly path: string }>> = {
    json: { text: `{"a": "${long}", "b": 1}`, path: '/b' },
    toml: { text: `a = 1 # ${long}\nb = 1\n`, path: 'b' },
    yaml: { text: `a: ${long}\nb: 1\n`, path: 'b' },
    xml: { text: `<t><a c="${long}"/><b>1</b></t>`, path: '/t/b' },
    pairs: { text: `a = ${long}\nb = 1\n`, path: 'b' },
    ini: { text: `[${long}]\na = 1\n[t]\nb = 1\n`, path: '[t] b' },
    properties: { text: `a=${long}\nb=1\n`, path: 'b' },
    lines: { text: `${long}\na\n`, path: 'b' },
    template: { text: long, path: 'b' },
  };
  it.each(names)('of %s is read and kept, or refused with its place', (name) => {
    const syntax = syntaxes[name];
    const { text: before, path } = files[name];
    const source = { name: 'file', text: before };
    const { tree, findings } = syntax.parse(source, {});
    if (tree === undefined) {
      expect(findings.map((finding) => [finding.code, placeOf(finding, source)])).toEqual([['text-too-long', '1:7']]);
      return;
    }
    const { edits, results } = syntax.change(tree, [
      { op: 'set', path, value: text(name === 'lines' ? 'present' : '2') },
    ]);
    expect(results.map(({ kind }) => kind)).toEqual([name === 'template' ? 'refused' : 'changed']);
    const after = applyEdits(before, edits);
    expect(Math.abs(after.length - before.length)).toBeLessThan(4);
    expect(after.includes(long)).toBe(true);
  });
});

describe('entities of a document type', () => {
  it('are neither expanded nor fetched, from a file or a server', async () => {
    let asked = 0;
    const server = createServer((_request, response) => {
      asked += 1;
      response.end('fetched');
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const address = server.address();
    if (address === null || typeof address === 'string') throw new Error('The server has no port.');
    const url = `http://127.0.0.1:${address.port}`;
    const folder = mkdtempSync(join(tmpdir(), 'thumbwright-entities-'));
    const file = join(folder, 'secret.txt');
    writeFileSync(file, 'secret words');
    const grown = Array.from({ length: 30 }, (_, k) => `<!ENTITY e${k + 1} "${`&e${k};`.repeat(10)}">`).join('\n');
    const source = {
      name: 'file',
      text: `<!DOCTYPE t SYSTEM "${url}/t.dtd" [\n<!ENTITY e0 "ha">\n${grown}\n<!ENTITY f SYSTEM "file://${file}">\n<!ENTITY n SYSTEM "${url}/n">\n<!ENTITY % p SYSTEM "${url}/p">\n%p;\n]>\n<t><a>&e30;</a><b>&f;</b><c>&n;</c><d e="&e30;">1</d></t>\n`,
    };
    const { tree, findings } = syntaxes.xml.parse(source, {});
    expect(findings.map((finding) => finding.code)).toEqual(['xml-entity-kept']);
    if (tree === undefined) throw new Error('The text cannot be read.');
    expect(tree.keys().map((key) => [key.path, tree.get(key.path)])).toEqual([['/t/d', { kind: 'scalar', text: '1' }]]);
    const { edits, results } = syntaxes.xml.change(
      tree,
      ['/t/a', '/t/b', '/t/c', '/t/d/@e', '/t/d'].map((path) => ({ op: 'set', path, value: text('2') })),
    );
    expect(results.map(({ kind }) => kind)).toEqual(['refused', 'refused', 'refused', 'refused', 'changed']);
    expect(applyEdits(source.text, edits)).toBe(source.text.replace('>1<', '>2<'));
    await new Promise((done) => server.close(done));
    rmSync(folder, { recursive: true });
    expect(asked).toBe(0);
  });
});

describe('a file of 100 MB', () => {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-large-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  it('is not read: a finding says how large it is', () => {
    const file = join(folder, 'large.conf');
    writeFileSync(file, '');
    truncateSync(file, 100_000_000);
    const { value, findings } = readSource(nodeFiles, hostPath(file), 'large.conf');
    expect(value).toBeUndefined();
    expect(findings.map((finding) => finding.code)).toEqual(['too-large']);
    expect(findings[0]?.detail).toContain('100000000 bytes');
  });
});
