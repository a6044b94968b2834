import { CORE_SCHEMA, load } from 'js-yaml';
import { parse as readSmolToml } from 'smol-toml';
import { describe, expect, it } from 'vitest';
import type { Change, SyntaxValue } from '../../../src/syntax/contract.ts';
import { toml } from '../../../src/syntax/toml/toml.ts';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { plainOf, withValueAt } from '../../support/syntax/edited-object.ts';
import { readWithPython } from '../../support/syntax/python-reader.ts';
import type { PythonAnswer, PythonScalar, PythonValue } from '../../support/syntax/python-reader.ts';
import { realFiles } from '../../support/syntax/real-files.ts';
import { tomlTree } from '../../support/syntax/toml.ts';
import { yamlTree } from '../../support/syntax/yaml.ts';

/** THUMBWRIGHT_CORPUS=all: every file that is found, and every key of each. */
const all = process.env['THUMBWRIGHT_CORPUS'] === 'all';
const [most, each, keysOfOne] = all ? [2000, 200, Infinity] : [40, 2, 12];

const kinds = [
  {
    of: tomlTree,
    syntax: toml,
    ending: /\.toml$/,
    python: 'toml',
    second: (text: string): unknown => readSmolToml(text, { integersAsBigInt: 'asNeeded' }),
  },
  {
    of: yamlTree,
    syntax: yaml,
    ending: /\.ya?ml$/,
    python: 'yaml',
    second: (text: string): unknown => load(text, { schema: CORE_SCHEMA }),
  },
] as const;

const isScalar = (value: PythonValue): value is PythonScalar => Array.isArray(value);

function leaves(value: PythonValue): readonly string[] {
  if (isScalar(value)) return [JSON.stringify(value)];
  if ('map' in value) return value.map.flatMap(([name, member]) => [name, ...leaves(member)]);
  return value.list.flatMap(leaves);
}

const valueIn = (answer: PythonAnswer | undefined): PythonValue | undefined =>
  answer !== undefined && 'value' in answer ? answer.value : undefined;

describe.each(kinds.map((kind) => [kind.syntax.name, kind] as const))(
  'real %s files',
  (_, { of, syntax, ending, python, second }) => {
    const files = realFiles(ending, most, each);

    it('stay as they are, and take each key set once, as other readers see', () => {
      const edits: { before: number; text: string; path: string }[] = [];
      const texts: string[] = [];
      let keysSet = 0;
      let read = 0;
      for (const { path: file, text } of files) {
        const { tree, findings } = syntax.parse({ name: file, text }, {});
        let before;
        try {
          before = plainOf(second(text));
        } catch {
          before = undefined;
        }
        // What the second reader reads, we read; templates of YAML are none to both.
        if (tree === undefined) {
          expect(before, `${file}: ${findings[0]?.detail}`).toBeUndefined();
          continue;
        }
        expect(applyEdits(text, syntax.change(tree, []).edits)).toBe(text);
        if (before === undefined) continue;
        read += 1;
        texts.push(text);
        const keys = tree.keys();
        const step = Math.max(1, Math.ceil(keys.length / keysOfOne));
        for (const key of keys.filter((__, k) => k % step === 0)) {
          const current = tree.get(key.path);
          if (current === undefined) throw new Error('a listed key has no value');
          const fresh: SyntaxValue =
            current.kind === 'scalar'
              ? { kind: 'scalar', text: 'fresh: #1' }
              : { kind: 'list', items: [...current.items, { text: 'fresh: #1' }] };
          const change: Change = { op: 'set', path: key.path, value: fresh };
          const outcome = syntax.change(tree, [change]);
          const edited = applyEdits(text, outcome.edits);
          const [result] = outcome.results;
          if (result?.kind === 'refused') {
            expect(['shared-by-alias', 'several-documents', 'key-not-determined'], `${file} ${key.path}`).toContain(
              result.finding.code,
            );
            expect(edited).toBe(text);
            continue;
          }
          keysSet += 1;
          expect(plainOf(second(edited)), `${file} ${key.path}`).toEqual(
            withValueAt(before, of.steps(key.path), of.reads(fresh)),
          );
          if (current.kind === 'scalar')
            edits.push({ before: texts.length - 1, text: edited, path: `${file} ${key.path}` });
        }
      }
      // A third reader in one process: all else as before, and one value that is ours.
      const answers = readWithPython(python, [...texts, ...edits.map((edit) => edit.text)]);
      let third = 0;
      edits.forEach((edit, k) => {
        const before = valueIn(answers?.[edit.before]);
        if (before === undefined) return;
        const after = valueIn(answers?.[texts.length + k]);
        if (after === undefined) throw new Error(`${edit.path} can no longer be read by Python`);
        const [old, now] = [leaves(before), leaves(after)];
        expect(now.length, edit.path).toBe(old.length);
        expect(
          now.filter((leaf, n) => leaf !== old[n]),
          edit.path,
        ).toEqual([JSON.stringify(['s', 'fresh: #1'])]);
        third += 1;
      });
      if (all)
        console.log(
          `${syntax.name}: ${files.length} files, ${read} read by both, ${keysSet} keys set, ${third} also judged by Python`,
        );
      expect(keysSet).toBeGreaterThan(0);
    });
  },
);
