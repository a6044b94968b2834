import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { readSecrets, secretsPath } from '../../../src/1-load/secrets.ts';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { writeSecret } from '../../../src/pipeline/write-secret.ts';
import { FailingFiles } from '../../support/failing-files.ts';

const root = hostPath('/w');
const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
let folder: string | undefined;

afterEach(() => {
  if (folder !== undefined) rmSync(folder, { recursive: true });
  folder = undefined;
});

function textOf(files: MemoryFiles): string {
  const read = files.read(secretsPath(files, root));
  return read.kind === 'bytes' ? Buffer.from(read.bytes).toString('utf8') : '';
}

describe('a secret that is kept', () => {
  it('is read back as it was given, and so are those before it', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(
          fc.tuple(
            fc.stringMatching(/^[a-z0-9]{1,6}(?:-[a-z0-9]{1,4})?$/),
            fc.oneof(fc.string({ minLength: 1, unit: 'grapheme' }), fc.string({ minLength: 1, unit: 'binary' })),
          ),
          { minLength: 1, maxLength: 4, selector: ([name]) => name },
        ),
        (all) => {
          const files = new MemoryFiles();
          const kept = new Map<string, string>();
          for (const [name, text] of all) {
            const findings = writeSecret(files, root, name, text);
            if (findings.length === 0) kept.set(name, text);
            else expect(JSON.stringify(findings)).not.toContain(text.length < 8 ? '\u0000never' : text);
          }
          const read = readSecrets(files, root, new Map());
          expect(read.findings).toEqual([]);
          for (const [name, text] of kept) expect(read.value.find(name)).toBe(text);
        },
      ),
      { numRuns: runs },
    );
  });

  it('leaves comments and other secrets as they stand', () => {
    const files = new MemoryFiles();
    files.write(secretsPath(files, root), Buffer.from('# mine\nattic: "one"  # the upper\nyard: two\n'), 0o600);
    expect(writeSecret(files, root, 'yard', "it's # three")).toEqual([]);
    expect(textOf(files)).toBe(`# mine\nattic: "one"  # the upper\nyard: "it's # three"\n`);
  });

  it('lies in a file for its owner alone, in a folder that git leaves out', () => {
    folder = mkdtempSync(join(tmpdir(), 'secrets-'));
    expect(writeSecret(nodeFiles, hostPath(folder), 'attic', 'one')).toEqual([]);
    const path = join(folder, '.thumbwright', 'private', 'secrets.yaml');
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(readFileSync(join(folder, '.thumbwright', 'private', '.gitignore'), 'utf8')).toBe('*\n');
    expect(readSecrets(nodeFiles, hostPath(folder), new Map()).findings).toEqual([]);
  });

  it('is not written into a file that is not understood', () => {
    const files = new MemoryFiles();
    files.write(secretsPath(files, root), Buffer.from('- a list\n'), 0o600);
    expect(writeSecret(files, root, 'yard', 'x').map(({ code }) => code)).toEqual(['bad-secrets-file']);
    expect(textOf(files)).toBe('- a list\n');
  });

  it.each([1, 2])('says why when write %i of the disk fails', (nth) => {
    const findings = writeSecret(new FailingFiles({}, nth), root, 'yard', 'never shown');
    const text = findings.map(({ code, detail, wayOut }) => `${code}\n${detail}\n${wayOut}\n`).join('\n');
    const expected = 'test/cases/secrets-kept/not-written/expected.txt';
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(expected, text);
    expect(text).toBe(readFileSync(expected, 'utf8'));
  });
});
