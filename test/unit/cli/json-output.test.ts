import Ajv2020 from 'ajv/dist/2020.js';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import { sarif } from '../../../src/report/sarif.ts';
import { demoFiles } from '../../support/demo.ts';
import { inFolder, thumbwright } from '../../support/cli.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validators = new Map(
  ['check', 'build', 'explain', 'new'].map((name) => [
    name,
    ajv.compile(JSON.parse(readFileSync(`schema/${name}-output.schema.json`, 'utf8')) as object),
  ]),
);

function valid(name: string, text: string): void {
  const validate = validators.get(name);
  const document: unknown = JSON.parse(text);
  const good = validate?.(document);
  expect(validate?.errors ?? [], text.slice(0, 300)).toEqual([]);
  expect(good).toBe(true);
}

describe('--json', () => {
  it('prints the document that the schema describes, on every verb, with findings and without', () => {
    inFolder((folder) => {
      valid('check', thumbwright(['check', '--json'], folder).out);
      valid('build', thumbwright(['build', '--json'], folder).out);
      valid('build', thumbwright(['build', '--json'], folder).out);
      valid('explain', thumbwright(['explain', 'fen', 'cores.choice', '--json'], folder).out);
      valid('explain', thumbwright(['explain', 'fen', 'north', '--json'], folder).out);
      valid('explain', thumbwright(['explain', 'profiles/house.yaml:14', '--json'], folder).out);
      valid('explain', thumbwright(['explain', 'out/fen/settings/hall/play.conf:7', '--json'], folder).out);
      valid('new', thumbwright(['new', 'heron', '--json'], folder).out);
      const house = join(folder, 'profiles', 'house.yaml');
      writeFileSync(house, readFileSync(house, 'utf8').replace('state-on-exit', 'state-on-exot'));
      const checked = thumbwright(['check', '--json'], folder);
      expect(checked.status).toBe(1);
      valid('check', checked.out);
      expect(checked.out).toContain('unknown-key');
      const built = thumbwright(['build', '--json'], folder);
      expect(built.status).toBe(1);
      valid('build', built.out);
    });
  });
});

describe('--sarif', () => {
  it('is a SARIF 2.1.0 log, by the types of @types/sarif, with regions inside the files', () => {
    const files = demoFiles({ 'profiles/house.yaml': (text) => text.replace('state-on-exit', 'state-on-exot') });
    const project = openProject(files, hostPath('/w')).value;
    if (project === undefined) throw new Error('The demo is no workspace.');
    const { findings } = runProfile(project, hostPath('/w/profiles/fen.yaml'), { card: undefined, newest: false });
    // That it is a Log at all, the compiler checks: @types/sarif follows the OASIS schema.
    const log = sarif(findings, '1.0.0');
    const [run] = log.runs;
    expect(log.version).toBe('2.1.0');
    expect(run?.results?.length).toBe(findings.length);
    for (const result of run?.results ?? []) {
      expect(run?.tool.driver.rules?.[result.ruleIndex ?? -1]?.id).toBe(result.ruleId);
      for (const location of result.locations ?? []) {
        const region = location.physicalLocation?.region;
        expect(region?.startLine).toBeGreaterThanOrEqual(1);
        expect(region?.startColumn).toBeGreaterThanOrEqual(1);
        expect(location.physicalLocation?.artifactLocation?.uri).toMatch(/^profiles\//);
      }
    }
  });
});
