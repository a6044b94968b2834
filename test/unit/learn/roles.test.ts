import { expect, test } from 'vitest';
import type { Proposal } from '../../../src/learn/contract.ts';
import { rolesOf } from '../../../src/learn/write/roles-of.ts';
import { settingById } from '../../../src/vocabulary/registry.ts';

function taken(id: string): Proposal {
  const setting = settingById(id);
  if (setting === undefined) throw new Error(`no setting: ${id}`);
  return { setting, scope: {}, grade: 'sure', entry: { file: 'f', key: 'k' }, keys: [], evidence: [], rivals: [] };
}

test('a setting that no role of the frontend is asked for brings its own', () => {
  expect(rolesOf(['player'], [taken('saves.state-on-exit'), taken('artwork.width')])).toEqual(['player', 'menu']);
  expect(rolesOf(['menu'], [taken('hotkeys.hold'), taken('exit.ask-first')])).toEqual(['menu', 'player']);
});

test('a setting of several roles asks for none besides, and none makes an operating system', () => {
  expect(rolesOf(['player'], [taken('menus.language')])).toEqual(['player']);
  expect(rolesOf(['player'], [taken('sound.volume-at-start')])).toEqual(['player']);
});
