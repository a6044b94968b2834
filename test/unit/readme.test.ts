import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const readme = readFileSync('README.md', 'utf8');
const scratch = mkdtempSync(join(tmpdir(), 'thumbwright-readme-'));
const command = join('.dist', 'thumbwright.cjs');

afterAll(() => rmSync(scratch, { recursive: true, force: true }));

/** Each `$ thumbwright …` of the README with the output that it shows. */
const sessions = [...readme.matchAll(/```console\n\$ thumbwright ([^\n]*)\n([\s\S]*?)```/g)].map((match) => ({
  call: match[1] ?? '',
  shown: match[2] ?? '',
  at: match.index ?? 0,
}));

describe('README', () => {
  it('shows what the commands really print (UPDATE_CASES=1 brings it up to date)', () => {
    expect(sessions.length).toBeGreaterThanOrEqual(3);
    let text = readme;
    for (const { call, shown } of sessions) {
      const printed = execFileSync(process.execPath, [command, ...call.split(' ')], {
        encoding: 'utf8',
        env: { ...process.env, NO_COLOR: '1' },
      });
      if (process.env['UPDATE_CASES'] === '1')
        text = text.replace(`$ thumbwright ${call}\n${shown}`, () => `$ thumbwright ${call}\n${printed}`);
      else expect(shown, call).toBe(printed);
    }
    if (text !== readme) writeFileSync('README.md', text);
  });

  it('names only files, scripts and demo lines that are there', () => {
    const scripts: unknown = JSON.parse(readFileSync('package.json', 'utf8'));
    for (const match of readme.matchAll(/npm run ([a-z:-]+)/g))
      expect(JSON.stringify(scripts)).toContain(`"${match[1] ?? ''}":`);
    for (const match of readme.matchAll(/`((?:profiles|out|schema|src|test)\/[a-z/.-]+)`/g))
      expect(existsSync(match[1] ?? ''), match[1]).toBe(true);
    const house = readFileSync('profiles/house.yaml', 'utf8');
    const excerpt = /```yaml\n([\s\S]*?)```/.exec(readme)?.[1] ?? '';
    expect(house).toContain(excerpt.trimEnd());
  });

  it('shows a beginning that works as it stands', () => {
    const run = (args: readonly string[]): string =>
      execFileSync(process.execPath, [join(process.cwd(), command), ...args], {
        cwd: scratch,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'pipe'],
      });
    expect(run(['new', 'fern'])).toContain('wrote profiles/fern.yaml');
    expect(run(['check'])).toContain('fern:');
  });
});
