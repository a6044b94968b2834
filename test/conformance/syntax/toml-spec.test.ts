import { parse as readSmolToml } from 'smol-toml';
import { describe, expect, it } from 'vitest';
import type { SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { readDottedPath, tomlPaths } from '../../../src/syntax/shared/dotted-path.ts';
import { toml } from '../../../src/syntax/toml/toml.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { plainOf, withValueAt } from '../../support/syntax/edited-object.ts';
import { readWithPython } from '../../support/syntax/python-reader.ts';
import type { PythonAnswer, PythonScalar, PythonValue } from '../../support/syntax/python-reader.ts';
import { invalidToml, validToml } from './toml-cases.ts';

const valid = validToml.flatMap(([section, texts]) => texts.map((text) => ({ section, text })));
const invalid = invalidToml.flatMap(([section, texts]) => texts.map((text) => ({ section, text })));
const judged: readonly (PythonAnswer | undefined)[] =
  readWithPython(
    'toml',
    [...valid, ...invalid].map((one) => one.text),
  ) ?? [];
const hasPython = judged.length > 0;

const parse = (text: string): Tree | undefined => toml.parse({ name: 'case.toml', text }, {}).tree;

/** A scalar as Python prints it: fractions cut to microseconds, as `datetime` holds them. */
function typed(item: { text: string; literal?: boolean }): PythonScalar {
  const { text } = item;
  if (item.literal !== true) return ['s', text];
  if (text === 'true' || text === 'false') return ['b', text];
  if (/^\d{4}-\d\d-\d\d|^\d\d:\d\d/.test(text)) return ['d', isoOf(text)];
  const digits = text.replaceAll('_', '');
  if (/^0[xob]/.test(digits)) return ['i', String(BigInt(digits))];
  if (/^[+-]?\d+$/.test(digits)) return ['i', String(BigInt(digits.replace(/^\+/, '')))];
  return ['f', floatOf(digits)];
}

const isoOf = (text: string): string =>
  text
    .toUpperCase()
    .replace(/^(\d{4}-\d\d-\d\d) /, '$1T')
    .replace(/Z$/, '+00:00')
    .replace(/\.(\d{1,6})\d*/, (_, fraction: string) =>
      /^0+$/.test(fraction) ? '' : `.${fraction.replace(/0+$/, '')}`,
    );

function floatOf(text: string): string {
  const plain = text.toLowerCase().replace(/^\+/, '');
  if (plain.endsWith('nan')) return 'nan';
  const value = plain.endsWith('inf') ? (plain.startsWith('-') ? -Infinity : Infinity) : Number(plain);
  return Object.is(value, -0) ? '-0' : String(value);
}

const isScalar = (value: PythonValue): value is PythonScalar => Array.isArray(value);

/** Scalars and lists of scalars by their path, as `keys()` has them. */
function leaves(value: PythonValue, path: readonly (string | number)[] = []): [string, unknown][] {
  const name = JSON.stringify(path);
  if (isScalar(value)) return [[name, sameForm(value)]];
  if ('map' in value) return value.map.flatMap(([key, member]) => leaves(member, [...path, key]));
  const scalars = value.list.filter(isScalar);
  if (scalars.length === value.list.length) return [[name, scalars.map(sameForm)]];
  return value.list.flatMap((item, index) => leaves(item, [...path, index]));
}

function sameForm([kind, text]: PythonScalar): PythonScalar {
  if (kind === 'f') return ['f', floatOf(text)];
  return kind === 'd' ? ['d', isoOf(text)] : [kind, text];
}

function stepsOf(path: string): readonly (string | number)[] {
  const read = readDottedPath(path, tomlPaths);
  if (read.kind === 'bad') throw new Error(read.why);
  return read.steps;
}

describe('TOML 1.0, our own cases after its text', () => {
  it('are as many as promised', () => {
    expect(valid.length).toBeGreaterThanOrEqual(120);
    expect(invalid.length).toBeGreaterThanOrEqual(80);
  });

  it.each(valid.map((one, index) => ({ ...one, index })))('$section: reads $text', ({ text, index }) => {
    const tree = parse(text);
    if (tree === undefined) throw new Error(toml.parse({ name: 'case.toml', text }, {}).findings[0]?.detail);
    // smol-toml reads TOML 1.1, of which 1.0 is a part.
    expect(() => readSmolToml(text, { integersAsBigInt: 'asNeeded' })).not.toThrow();
    const answer = judged[index];
    if (answer !== undefined && 'value' in answer) {
      const ours = tree.keys().map((key): [string, unknown] => {
        const value = tree.get(key.path);
        return [
          JSON.stringify(stepsOf(key.path)),
          value?.kind === 'list' ? value.items.map(typed) : value && typed(value),
        ];
      });
      expect(new Map(ours)).toEqual(new Map(leaves(answer.value)));
    } else expect(answer).toBeUndefined();
    for (const key of tree.keys()) {
      for (const value of [
        { kind: 'scalar', text: 'fresh "one"' },
        { kind: 'list', items: [{ text: '0x10', literal: true }] },
      ] as SyntaxValue[]) {
        const edited = applyEdits(text, toml.change(tree, [{ op: 'set', path: key.path, value }]).edits);
        expect(parse(edited)?.get(key.path), edited).toEqual(value);
        const wanted = value.kind === 'scalar' ? value.text : [16];
        const before = plainOf(readSmolToml(text, { integersAsBigInt: 'asNeeded' }));
        expect(plainOf(readSmolToml(edited, { integersAsBigInt: 'asNeeded' }))).toEqual(
          withValueAt(before, stepsOf(key.path), wanted),
        );
      }
    }
  });

  it.each(invalid.map((one, index) => ({ ...one, index })))('$section: refuses $text', ({ text, index }) => {
    const { tree, findings } = toml.parse({ name: 'case.toml', text }, {});
    expect(tree).toBeUndefined();
    const place = findings[0]?.place;
    if (place === undefined) throw new Error('a finding without a place');
    const { line, column } = lineColumn(place.source, place.span.start);
    expect(line).toBeLessThanOrEqual(text.split(/\r\n|\n|\r/).length);
    expect(column).toBeGreaterThan(0);
    const answer = judged[valid.length + index];
    expect(answer === undefined || 'error' in answer).toBe(true);
  });

  it('Python has judged them where it can', () => {
    expect(judged.length).toBe(hasPython ? valid.length + invalid.length : 0);
  });
});
