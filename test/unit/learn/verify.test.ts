import { describe, expect, it } from 'vitest';
import { isFault } from '../../../src/learn/verify/verify-dialect.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject } from '../../../src/pipeline.ts';
import { verifyFrontend } from '../../../src/pipeline/verify-frontend.ts';
import type { VerifiedFrontend } from '../../../src/pipeline/verify-frontend.ts';
import { demoFiles } from '../../support/demo.ts';

function verified(
  profile: string,
  instance: string,
  stock: string,
  change: Parameters<typeof demoFiles>[0] = {},
): VerifiedFrontend {
  const project = openProject(demoFiles(change), hostPath('/w')).value;
  if (project === undefined) throw new Error('The demo is no workspace.');
  const folder = hostPath(`/w/profiles/dialects/${stock}`);
  const { value } = verifyFrontend(project, hostPath(`/w/profiles/${profile}.yaml`), instance, folder);
  if (value === undefined) throw new Error(`${profile} has no ${instance}.`);
  return value;
}

function faults({ settings }: VerifiedFrontend): readonly unknown[] {
  return settings.flatMap(({ setting, trials }) => trials.filter(isFault).map((trial) => [setting, trial]));
}

describe('verifyDialect', () => {
  it.each([
    ['fen', 'harrow-hall', 'harrow/stock/2.1.4'],
    ['tarn', 'harrow-hall', 'harrow/stock/2.1.4'],
    ['mere', 'sill', 'sill/stock/4.0.2'],
    ['tarn', 'withy', 'withy/stock/0.8.2'],
    ['tarn', 'coble', 'coble/stock/1.6.0'],
    ['fen', 'os', 'sedge/stock/3.2.1'],
  ])("finds every setting of %s's %s to come back as it was set", (profile, instance, stock) => {
    const result = verified(profile, instance, stock);
    expect(faults(result)).toEqual([]);
    expect(result.settings.flatMap(({ trials }) => trials).length).toBeGreaterThan(result.settings.length);
    expect(result.settings.filter(({ now }) => now.kind === 'value').length).toBeGreaterThan(0);
  });

  it('finds a value map that reads two values alike', () => {
    const broken = verified('fen', 'harrow-hall', 'harrow/stock/2.1.4', {
      'profiles/dialects/harrow.yaml': (text) =>
        text.replace(
          /values: \{ true: \["on", "1"\], false: "off" \}/,
          'values: { true: ["on", "off"], false: "off" }',
        ),
    });
    const state = broken.settings.find(({ setting }) => setting === 'saves.state-on-exit');
    expect(state?.trials.map(({ kind }) => kind)).toContain('ambiguous');
  });

  it('finds two settings that share a key', () => {
    const broken = verified('fen', 'harrow-hall', 'harrow/stock/2.1.4', {
      'profiles/dialects/harrow.yaml': (text) =>
        text.replace(/^( {2}saves\.resume-on-start: .*)key: [a-z-]+/m, '$1key: keep-place'),
    });
    const ids = faults(broken).map((fault) => (Array.isArray(fault) ? String(fault[0]) : ''));
    expect(new Set(ids)).toEqual(new Set(['saves.state-on-exit', 'saves.resume-on-start']));
  });

  it('says which files the folder does not have', () => {
    expect(verified('tarn', 'withy', 'coble/stock/1.6.0').missing).toEqual(['settings:withy/weave.toml']);
  });
});
