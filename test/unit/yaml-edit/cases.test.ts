// Walks test/cases/yaml-edit: each folder holds before.yaml, changes.yaml (a list of YamlChange) and expected.yaml;
// UPDATE_CASES=1 writes the expected files.
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { editYaml } from '../../../src/yaml-edit/edit-yaml.ts';
import type { YamlChange } from '../../../src/yaml-edit/edit-yaml.ts';

const root = new URL('../../cases/yaml-edit', import.meta.url).pathname;

describe.each(readdirSync(root))('yaml-edit case %s', (name) => {
  it('gives the expected text', () => {
    const read = (file: string): string => readFileSync(join(root, name, file), 'utf8');
    const text = read('before.yaml');
    const { value, findings } = editYaml({ name: 'before.yaml', text }, parse(read('changes.yaml')) as YamlChange[]);
    expect(findings).toEqual([]);
    const edited = applyEdits(text, value);
    if (process.env['UPDATE_CASES'] === '1' && edited !== read('expected.yaml')) {
      writeFileSync(join(root, name, 'expected.yaml'), edited);
    }
    expect(edited).toBe(read('expected.yaml'));
  });
});
