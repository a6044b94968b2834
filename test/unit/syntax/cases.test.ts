// Walks test/cases/syntax: NAME-WHAT/ holds before.*, changes.yaml and expected.*; UPDATE_CASES=1 writes the expected files.
// changes.yaml: `style` (as in a dialect's words of the syntax contract), `set` (path: text or list of texts; a bare
// number, truth or null is a literal of the syntax), `literal` (path: literal as text), `remove` (paths), `refused` (path: code),
// `values` (path: text, read from the text after the changes).
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { Change, Style, SyntaxValue } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

const root = new URL('../../cases/syntax', import.meta.url).pathname;
const update = process.env['UPDATE_CASES'] === '1';

type Written = string | number | boolean | null | readonly string[];

interface Asked {
  readonly style?: Style;
  readonly set?: Readonly<Record<string, Written>>;
  readonly literal?: Readonly<Record<string, string>>;
  readonly remove?: readonly string[];
  readonly refused?: Readonly<Record<string, string>>;
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

  it('gives the expected text', () => {
    if (syntax === undefined) throw new Error(`${name} begins with no syntax's name.`);
    if (!update) expect([...files].sort()).toEqual([before, 'changes.yaml', expected].sort());
    const source = { name: before, text: decodeBytes(readFileSync(join(folder, before))) };
    const { tree } = syntax.parse(source, asked.style ?? {});
    if (tree === undefined) throw new Error('The text before cannot be read.');
    const changes = [
      ...Object.entries(asked.set ?? {}).map(([path, value]): Change => ({ op: 'set', path, value: valueOf(value) })),
      ...Object.entries(asked.literal ?? {}).map(([path, text]): Change => ({
        op: 'set',
        path,
        value: { kind: 'scalar', text, literal: true },
      })),
      ...(asked.remove ?? []).map((path): Change => ({ op: 'remove', path })),
    ];
    const { edits, results } = syntax.change(tree, changes);
    const refused = results.flatMap((result, k) =>
      result.kind === 'refused' ? [[changes[k]?.path, result.finding.code]] : [],
    );
    expect(refused).toEqual(Object.entries(asked.refused ?? {}));
    const text = applyEdits(source.text, edits);
    const file = join(folder, expected);
    if (update && (!existsSync(file) || decodeBytes(readFileSync(file)) !== text))
      writeFileSync(file, encodeText(text));
    expect(text).toBe(decodeBytes(readFileSync(file)));
    const after = syntax.parse({ name: expected, text }, asked.style ?? {}).tree;
    for (const [path, value] of Object.entries(asked.values ?? {}))
      expect(after?.get(path)).toEqual({ kind: 'scalar', text: value });
    for (const [path, value] of Object.entries(asked.set ?? {})) {
      if (asked.refused?.[path] === undefined) expect([path, after?.get(path)]).toEqual([path, valueOf(value)]);
    }
    for (const path of asked.remove ?? []) expect(after?.get(path)).toBeUndefined();
  });
});
