// Walks test/cases/syntax: NAME-WHAT/ holds before.*, changes.yaml, expected.* (unless the text before cannot be read) and, where
// something is found or refused, expected-findings.txt as a person gets it; UPDATE_CASES=1 writes the expected files.
// changes.yaml: `style` (as in a dialect's words of the syntax contract), `set` (path: text or list of texts; a bare
// number, truth or null is a literal of the syntax), `literal` (path: literal as text), `remove` (paths), `refused` (path: code),
// `values` (path: text, read from the text after the changes), `repeat` (text: how many of it stand in its place in before.*).
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { syntaxCodes } from '../../../src/diagnostics/catalogue/syntax.ts';
import { paint } from '../../../src/report/paint.ts';
import { findingText } from '../../../src/report/terminal/findings.ts';
import type { Change, Style, SyntaxValue } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const root = new URL('../../cases/syntax', import.meta.url).pathname;
const findingsFile = 'expected-findings.txt';
const update = process.env['UPDATE_CASES'] === '1';

type Written = string | number | boolean | null | readonly string[];

interface Asked {
  readonly style?: Style;
  readonly set?: Readonly<Record<string, Written>>;
  readonly literal?: Readonly<Record<string, string>>;
  readonly remove?: readonly string[];
  readonly refused?: Readonly<Record<string, string>>;
  readonly repeat?: Readonly<Record<string, number>>;
  readonly values?: Readonly<Record<string, string>>;
}

function valueOf(written: Written): SyntaxValue {
  if (typeof written === 'string') return { kind: 'scalar', text: written };
  if (typeof written !== 'object' || written === null) return { kind: 'scalar', text: String(written), literal: true };
  return { kind: 'list', items: written.map((text) => ({ text })) };
}

describe.each(readdirSync(root))('syntax case %s', (name) => {
  const folder = join(root, name);
  const files = readdirSync(folder);
  const before = files.find((file) => file.startsWith('before.')) ?? '';
  const expected = before.replace('before.', 'expected.');
  const syntax = Object.values(syntaxes).find((one) => name.startsWith(`${one.name}-`));
  // The shape is checked by what the test does with it.
  const asked = parse(readFileSync(join(folder, 'changes.yaml'), 'utf8')) as Asked;

  /** Holds what came out to what is committed, or writes it. */
  const committed = (file: string, text: string): void => {
    const path = join(folder, file);
    if (update && (!existsSync(path) || decodeBytes(readFileSync(path)) !== text))
      writeFileSync(path, encodeText(text));
    expect(text).toBe(decodeBytes(readFileSync(path)));
  };

  it('gives the expected text and findings', () => {
    if (syntax === undefined) throw new Error(`${name} begins with no syntax's name.`);
    const written = decodeBytes(readFileSync(join(folder, before)));
    const repeated = Object.entries(asked.repeat ?? {});
    const source = {
      name: before,
      text: repeated.reduce((text, [part, times]) => text.replaceAll(part, part.repeat(times)), written),
    };
    const { tree, findings } = syntax.parse(source, asked.style ?? {});
    const changes = [
      ...Object.entries(asked.set ?? {}).map(([path, value]): Change => ({ op: 'set', path, value: valueOf(value) })),
      ...Object.entries(asked.literal ?? {}).map(([path, text]): Change => ({
        op: 'set',
        path,
        value: { kind: 'scalar', text, literal: true },
      })),
      ...(asked.remove ?? []).map((path): Change => ({ op: 'remove', path })),
    ];
    const { edits, results } = tree === undefined ? { edits: [], results: [] } : syntax.change(tree, changes);
    const refusals = results.flatMap((result, k) =>
      result.kind === 'refused' ? [{ path: changes[k]?.path, finding: result.finding }] : [],
    );
    expect(refusals.map(({ path, finding }) => [path, finding.code])).toEqual(Object.entries(asked.refused ?? {}));
    const told = [...findings, ...refusals.map(({ finding }) => finding)];
    for (const finding of told) expect(finding.place?.source).toBe(source);
    const expectedFiles = [...(tree === undefined ? [] : [expected]), ...(told.length === 0 ? [] : [findingsFile])];
    if (!update) expect([...files].sort()).toEqual([before, 'changes.yaml', ...expectedFiles].sort());
    if (told.length > 0) committed(findingsFile, told.map((one) => findingText(one, paint(false), 100)).join('\n'));
    if (tree === undefined) return;
    const text = applyEdits(source.text, edits);
    committed(expected, text);
    const after = syntax.parse({ name: expected, text }, asked.style ?? {}).tree;
    for (const [path, value] of Object.entries(asked.values ?? {}))
      expect(after?.get(path)).toEqual({ kind: 'scalar', text: value });
    for (const [path, value] of Object.entries(asked.set ?? {})) {
      if (asked.refused?.[path] === undefined) expect([path, after?.get(path)]).toEqual([path, valueOf(value)]);
    }
    for (const path of asked.remove ?? []) expect(after?.get(path)).toBeUndefined();
  });
});

describe('the codes of syntaxes', () => {
  it('are each shown by a case', () => {
    const shown = new Set(
      readdirSync(root).flatMap((name) => {
        const file = join(root, name, findingsFile);
        const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
        return [...text.matchAll(/^(?:error|warning|note) ([a-z0-9-]+) /gm)].map(([, code]) => code);
      }),
    );
    expect(Object.keys(syntaxCodes).filter((code) => !shown.has(code))).toEqual([]);
  });
});
