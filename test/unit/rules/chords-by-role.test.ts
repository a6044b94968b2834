import { expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import { demoFiles } from '../../support/demo.ts';

it('finds no chord on a menu or an operating system that is never asked for the hotkey', () => {
  // At the top two hotkeys meet, but the only player has one of them elsewhere.
  const files = demoFiles({
    'profiles/mere.yaml': (text) =>
      `${text}hotkeys: { bind: { mute: shoulder-left } }\nonly: [ { for: { frontend: harrow }, hotkeys: { bind: { mute: west } } } ]\n`,
  });
  const project = openProject(files, hostPath('/w')).value;
  if (project === undefined) throw new Error('The demo is no workspace.');
  const { findings } = runProfile(project, hostPath('/w/profiles/mere.yaml'), { card: undefined, newest: false });
  expect(findings.filter(({ code }) => code === 'one-chord-two-actions')).toEqual([]);
});
