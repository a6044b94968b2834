import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { baseOf } from '../../../src/1-load/base-files.ts';
import { missingSecrets, readSecrets, secretsPath } from '../../../src/1-load/secrets.ts';
import { buildFiles } from '../../../src/4-plan/build-files.ts';
import type { Finding } from '../../../src/diagnostics/finding.ts';
import type { BuiltFile } from '../../../src/model/compiled.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, prepareProfile, runProfile } from '../../../src/pipeline.ts';
import { hideSecrets } from '../../../src/pipeline/hide-secrets.ts';
import { planWrite } from '../../../src/pipeline/plan-write.ts';
import { secretsCaution } from '../../../src/pipeline/secrets-caution.ts';
import { spellSecrets } from '../../../src/pipeline/spell-secrets.ts';
import { findingJson } from '../../../src/report/json-findings.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { makeWorld, readFolder } from '../../support/world.ts';

const folder = 'test/cases/secrets-written';
const world = readFolder(join(folder, '_world'));
const root = hostPath('/w');

interface Run {
  readonly shown: readonly BuiltFile[];
  readonly real: readonly BuiltFile[];
  readonly findings: readonly Finding[];
  readonly texts: readonly string[];
}

/** What `write` does with secrets, without the writing. */
function run(secretsText: Uint8Array, card: Readonly<Record<string, Uint8Array>>): Run {
  const files = makeWorld(world, []);
  files.write(secretsPath(files, root), secretsText, 0o600);
  for (const [path, bytes] of Object.entries(card)) files.write(files.join(root, 'card', path), bytes);
  const project = openProject(files, root).value;
  if (project === undefined) throw new Error('The world is no workspace.');
  const prepared = prepareProfile(project, files.join(root, 'profiles', 'rook.yaml'), false);
  const { parts } = prepared;
  if (parts === undefined) throw new Error('The profile does not compile.');
  const secrets = readSecrets(files, root, new Map());
  const find = (secret: string): string | undefined => secrets.value.find(secret);
  const spelled = spellSecrets(parts, find);
  const { uses } = spelled.value;
  const names = uses.map((use) => use.name);
  const base = baseOf(files, parts.resolved, parts.dialects, { whole: files.join(root, 'card'), parts: new Map() });
  const real = buildFiles(spelled.value.compiled, base, syntaxes, () => false);
  const shown = buildFiles(parts.compiled, hideSecrets(base, parts, spelled.value.compiled), syntaxes, () => false);
  const planned = planWrite(files, {
    parts,
    folders: new Map([['settings', files.join(root, 'card')]]),
    card: '0123456789abcdef',
    record: undefined,
    mark: [],
    versions: new Map(),
    secret: find,
    key: 'a key',
    takeProfile: false,
    answers: new Map(),
    stillPending: false,
    seen: () => undefined,
  });
  return {
    shown: shown.value,
    real: real.value,
    findings: [
      ...prepared.findings,
      ...secrets.findings,
      ...missingSecrets(secrets.value, names),
      ...spelled.findings,
      ...shown.findings,
      // With an error of a text itself, nothing is planned.
      ...(spelled.findings.length > 0 ? [] : planned.findings),
      ...secretsCaution(uses),
    ],
    texts: names.flatMap((secret) => find(secret) ?? []),
  };
}

const tellFindings = (findings: readonly Finding[]): string =>
  findings.map(({ grade, code, detail, wayOut }) => `${grade} ${code}\n  ${detail}\n  way out: ${wayOut}\n`).join('\n');

const tellFiles = (files: readonly BuiltFile[]): string =>
  files
    .map(({ path, mode, whole, text }) => {
      const access = [mode?.toString(8), whole?.owner].filter((one) => one !== undefined).join(' ');
      return `=== ${path}${access === '' ? '' : ` (${access})`}\n${text}`;
    })
    .join('\n');

function check(name: string, file: string, text: string): void {
  const path = join(folder, name, file);
  if (process.env['UPDATE_CASES'] === '1') writeFileSync(path, text);
  expect(text).toBe(readFileSync(path, 'utf8'));
}

describe('secrets on the way to a card', () => {
  it.each(readdirSync(folder).filter((name) => !name.startsWith('_')))('%s', (name) => {
    const card = join(folder, name, 'card');
    const { shown, real, findings, texts } = run(
      readFileSync(join(folder, name, 'secrets.yaml')),
      existsSync(card) ? readFolder(card) : {},
    );
    check(name, 'expected-findings.txt', tellFindings(findings));
    check(name, 'expected-shown.txt', tellFiles(shown));
    const open = [tellFindings(findings), ...shown.flatMap((file) => [file.text, file.base?.text ?? ''])].join('\n');
    expect(texts.length).toBeGreaterThan(0);
    for (const text of texts) expect(open).not.toContain(text);
    // With an error nothing is written.
    if (!findings.some(({ grade }) => grade === 'error')) {
      check(name, 'expected-card.txt', tellFiles(real));
      expect(shown.map(({ path }) => path)).toEqual(real.map(({ path }) => path));
      expect(shown.map(({ keys }) => keys.map(({ edit }) => edit.key))).toEqual(
        real.map(({ keys }) => keys.map(({ edit }) => edit.key)),
      );
    }
  });

  it('are in no finding and in no text that is shown, whatever they are', () => {
    const cardFolder = readFolder(join(folder, 'already-there', 'card'));
    const token = fc.stringMatching(/^[a-z0-9]{8}$/).map((letters) => `zq${letters}`);
    const middle = fc.oneof(
      fc.constantFrom('"', '\\', "'", '#', ';', '\n', '\0', ' = ', '&<', 'é', ''),
      fc.string({ maxLength: 4 }),
    );
    fc.assert(
      fc.property(token, middle, fc.boolean(), (known, text, long) => {
        const secret = `${known}${text}${known}${long ? 'x'.repeat(60) : ''}`;
        const kept = ['shelf-account', 'shelf-password', 'reading-room', 'attic'];
        const card = Object.fromEntries(
          Object.entries(cardFolder).map(([path, bytes]) => [
            path,
            Buffer.from(
              Buffer.from(bytes)
                .toString('utf8')
                .replaceAll(/heron-at-dusk|not-the-profiles|another-reader/g, `${known}-card`),
            ),
          ]),
        );
        const yamlText = kept.map((name) => `${name}: ${JSON.stringify(secret)}\n`).join('');
        const { shown, findings } = run(Buffer.from(yamlText), card);
        const open = [
          JSON.stringify(findings.map(findingJson)),
          tellFindings(findings),
          ...shown.flatMap((file) => [
            file.text,
            file.base?.text ?? '',
            JSON.stringify(file.keys.map(({ edit }) => edit.value)),
          ]),
        ].join('\n');
        expect(open).not.toContain(known);
      }),
      { numRuns: Math.min(Number(process.env['THUMBWRIGHT_RUNS'] ?? 30), 500) },
    );
  });

  it('of a card are not copied into what build lays out', () => {
    const files = makeWorld(world, []);
    for (const [path, bytes] of Object.entries(readFolder(join(folder, 'already-there', 'card'))))
      files.write(files.join(root, 'card', path), bytes);
    const project = openProject(files, root).value;
    if (project === undefined) throw new Error('The world is no workspace.');
    const card = { whole: files.join(root, 'card'), parts: new Map() };
    const { built } = runProfile(project, files.join(root, 'profiles', 'rook.yaml'), { card, newest: false });
    const text = (built?.files ?? []).map((file) => file.text).join('\n');
    expect(text).toContain('<secret:shelf-password>');
    expect(text).toContain('[pictures]\nword = <hidden>');
    expect(text).not.toMatch(/heron-at-dusk|not-the-profiles|another-reader|old/);
  });
});
