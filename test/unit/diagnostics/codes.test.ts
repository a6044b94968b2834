import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { catalogue } from '../../../src/diagnostics/catalogue.ts';
import { applyCodes } from '../../../src/diagnostics/catalogue/apply.ts';
import { shellCodes } from '../../../src/diagnostics/catalogue/shell.ts';

const codes = Object.keys(catalogue);
const pages = 'src/diagnostics/pages';

function filesBelow(folder: string): readonly string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesBelow(path) : [path];
  });
}

/** Whole words of codes in a text: `bad-root` is not in `bad-root-of-all`. */
function codesIn(text: string): readonly string[] {
  const words = new Set(text.match(/[a-z0-9]+(?:-[a-z0-9]+)+/g));
  return codes.filter((code) => words.has(code));
}

const findingFolders = readdirSync('test/cases/findings').filter((name) => !name.startsWith('_'));

/** Where each code is shown: by the name of a folder of findings, or in what another case expects. */
const shown = new Set([
  ...findingFolders.map((name) => name.replace(/--.*$/, '')),
  ...[
    'test/cases/dialect',
    'test/cases/syntax',
    'test/cases/yaml-edit',
    'test/cases/secrets',
    'test/cases/plan',
    'test/cases/learn',
    'test/cases/secrets-kept',
    'test/cases/secrets-written',
  ]
    .flatMap(filesBelow)
    .filter((path) => /[/\\]expected[^/\\]*$/.test(path))
    .flatMap((path) => codesIn(readFileSync(path, 'utf8'))),
]);

/**
 * What is fetched is bytes of an archive, and what goes wrong with a card is a disk that fails: neither can lie in a case
 * folder to be read, so unit tests make them.
 */
function shownIn(folder: string, own: object): readonly string[] {
  return filesBelow(folder).flatMap((path) =>
    codesIn(readFileSync(path, 'utf8')).filter((code) => Object.hasOwn(own, code)),
  );
}
const shownByTests = new Set([...shownIn('test/unit/device', shellCodes), ...shownIn('test/unit/5-apply', applyCodes)]);

describe('codes of findings', () => {
  it('have a page each, and no page is without a code', () => {
    expect(readdirSync(pages).sort()).toEqual(codes.map((code) => `${code}.md`).sort());
  });

  it('have a case each', () => {
    expect(codes.filter((code) => !shown.has(code) && !shownByTests.has(code))).toEqual([]);
  });

  it('name every folder of findings', () => {
    const known = new Set(codes);
    expect(findingFolders.filter((name) => !name.startsWith('good-') && !known.has(name.replace(/--.*$/, '')))).toEqual(
      [],
    );
  });

  it.each(Object.entries(catalogue))('%s: its summary is short and holds nothing of the user', (code, { summary }) => {
    expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(summary.split(' ').length).toBeLessThan(8);
    expect(summary).not.toMatch(/[0-9"'`]/);
    expect(summary).toMatch(/^[A-Z]/);
  });

  it.each(codes)('%s: its page says enough in few lines', (code) => {
    const lines = readFileSync(join(pages, `${code}.md`), 'utf8')
      .trimEnd()
      .split('\n');
    expect(lines.length).toBeGreaterThanOrEqual(5);
    expect(lines.length).toBeLessThanOrEqual(30);
  });
});
