import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { catalogue } from '../../../src/diagnostics/catalogue.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, profilePaths, runProfile, withoutTwins } from '../../../src/pipeline.ts';
import { findingJson } from '../../../src/report/json-findings.ts';
import { sortFindings } from '../../../src/report/terminal/findings.ts';
import { makeWorld, readFolder, readSteps } from '../../support/world.ts';

const folder = 'test/cases/findings';
const world = readFolder(join(folder, '_world'));
const names = readdirSync(folder).filter((name) => !name.startsWith('_'));

/** Findings in a stable plain form that a person can read in a diff. */
function report(name: string): { text: string; codes: readonly string[] } {
  const files = makeWorld(world, readSteps(join(folder, name, 'steps.yaml')));
  const opened = openProject(files, hostPath('/w'));
  const project = opened.value;
  if (project === undefined) throw new Error('The world is no workspace.');
  const card = existsSync(join(folder, name, 'card')) ? { whole: hostPath('/w/card'), parts: new Map() } : undefined;
  // An empty file asks for the rules that run only when asked for.
  const easyHands = existsSync(join(folder, name, 'easy-hands'));
  const found = profilePaths(project).flatMap(
    ({ path }) => runProfile(project, path, { card, newest: false, easyHands }).findings,
  );
  const findings = sortFindings(withoutTwins([...opened.findings, ...found]));
  const lines = findings.map((finding) => {
    const { place, related, ...rest } = findingJson(finding);
    const at = (p: NonNullable<typeof place>): string => `${p.file}:${p.line}:${p.column}-${p.endLine}:${p.endColumn}`;
    return [
      `${rest.grade} ${rest.code}${place === undefined ? '' : ` at ${at(place)}`}`,
      `  ${rest.detail.slice(0, 400)}`,
      ...related.map((r) => `  see ${at(r)}: ${r.note}`),
      `  way out: ${rest.wayOut.slice(0, 300)}`,
      ...(rest.mend === undefined
        ? []
        : rest.mend.changes.map(
            (change) => `  ${rest.mend?.grade ?? ''} mend: ${at(change)} becomes ${JSON.stringify(change.text)}`,
          )),
    ].join('\n');
  });
  return { text: `${lines.join('\n\n')}\n`, codes: findings.map((finding) => finding.code) };
}

describe('cases of findings', () => {
  it.each(names)('%s', (name) => {
    const { text, codes } = report(name);
    const expectedPath = join(folder, name, 'expected.txt');
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(expectedPath, text);
    expect(text).toBe(readFileSync(expectedPath, 'utf8'));
    // A folder is named after the code that it shows; `good-…` shows none above a note.
    const code = name.replace(/--.*$/, '');
    if (name.startsWith('good-'))
      expect(
        codes.filter((c) => Object.entries(catalogue).some(([known, { grade }]) => known === c && grade !== 'note')),
      ).toEqual([]);
    else expect(codes).toContain(code);
  });
});
