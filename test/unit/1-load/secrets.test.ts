import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { missingSecrets, readSecrets, secretVariable, secretsPath } from '../../../src/1-load/secrets.ts';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { hostPath } from '../../../src/model/paths.ts';

const folder = 'test/cases/secrets';
const root = hostPath('/w');

function textOf(path: string): string | undefined {
  return existsSync(path) ? readFileSync(path, 'utf8') : undefined;
}

/** What was read of each name that is wanted, and all findings. */
function report(name: string): string {
  const at = (file: string): string | undefined => textOf(join(folder, name, file));
  const files = new MemoryFiles();
  files.write(
    secretsPath(files, root),
    Buffer.from(at('secrets.yaml') ?? ''),
    Number.parseInt(at('mode.txt') ?? '600', 8),
  );
  const environment = new Map(
    (at('environment.txt') ?? '')
      .split('\n')
      .filter((line) => line.includes('='))
      .map((line): [string, string] => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)]),
  );
  const wanted = (at('wanted.txt') ?? '').trim().split(' ');
  const read = readSecrets(files, root, environment);
  const values = wanted.flatMap((secret) => {
    const value = read.value.find(secret);
    return value === undefined ? [] : [`${secret} of the ${read.value.from(secret) ?? ''}: ${JSON.stringify(value)}`];
  });
  const findings = [...read.findings, ...missingSecrets(read.value, wanted)].map(
    (finding) => `${finding.grade} ${finding.code}\n  ${finding.detail}\n  way out: ${finding.wayOut}`,
  );
  return `${[...values, '', ...findings].join('\n').trim()}\n`;
}

describe('secrets', () => {
  it.each(readdirSync(folder))('%s', (name) => {
    const text = report(name);
    const expected = join(folder, name, 'expected.txt');
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(expected, text);
    expect(text).toBe(readFileSync(expected, 'utf8'));
    // Lines with `never` are passwords at places where no value is read: nothing may repeat them.
    expect(text).not.toContain('never-shown');
  });

  it('are asked of the environment by a name in capitals', () => {
    expect(secretVariable('shelf-account')).toBe('THUMBWRIGHT_SECRET_SHELF_ACCOUNT');
    expect(secretVariable('room2')).toBe('THUMBWRIGHT_SECRET_ROOM2');
  });

  it('without a file and an environment are none', () => {
    const { value, findings } = readSecrets(new MemoryFiles(), root, new Map());
    expect(findings).toEqual([]);
    expect(value.find('shelf-account')).toBeUndefined();
    expect(value.from('shelf-account')).toBeUndefined();
  });

  it('that were given at the prompt go first', () => {
    const environment = new Map([['THUMBWRIGHT_SECRET_A', 'old']]);
    const value = readSecrets(new MemoryFiles(), root, environment).value.with(new Map([['a', 'new']]));
    expect([value.find('a'), value.from('a')]).toEqual(['new', 'given']);
  });

  it('in a file that is no UTF-8 are not read', () => {
    const files = new MemoryFiles();
    files.write(secretsPath(files, root), Buffer.from([0x61, 0x3a, 0x20, 0xff, 0xfe, 0x0a]), 0o600);
    const { value, findings } = readSecrets(files, root, new Map());
    expect(findings.map(({ code }) => code)).toEqual(['bad-secrets-file']);
    expect(value.find('a')).toBeUndefined();
  });
});
