import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { describeSetting } from '../../../src/vocabulary/describe.ts';
import { settingById, settings } from '../../../src/vocabulary/registry.ts';
import type { SettingDefinition } from '../../../src/vocabulary/types.ts';

function setting(id: string): SettingDefinition {
  const found = settingById(id);
  if (found === undefined) throw new Error(id);
  return found;
}

test('a setting is told in full', () => {
  expect(describeSetting(setting('saves.write-save-every'))).toBe(`saves.write-save-every

How often the game's own save is written to the card while playing. With never, it is written only when the game is left.

Values: a time with its unit: ms, s, min or h; or never.
null clears what a lower layer set; left out, the device's own stays.

Written as:
  saves:
    write-save-every: 10 s

In an only block it may be given for a frontend, a core, a game system or a game. It is asked of frontends that play games.

Take care: With never, a device that is switched off at the button loses what the game itself had saved.
`);
});

test('bounds are told in the units that people write', () => {
  expect(describeSetting(setting('display.brightness-at-start'))).toContain(
    'a share with its unit: %, from 0 % to 100 %.',
  );
  expect(describeSetting(setting('artwork.request-limit'))).toContain('a rate with its unit: / day, 1 / day or more.');
  expect(describeSetting(setting('input-lag.frames-hidden'))).toContain('a whole number, from 0 to 12.');
});

test('while is told only of what lasts', () => {
  expect(describeSetting(setting('hotkeys.bind.rewind'))).toContain('while: toggled');
  expect(describeSetting(setting('hotkeys.bind.pause'))).not.toContain('while');
});

test('every page holds its example as YAML that names the setting', () => {
  for (const { id } of settings) {
    const page = describeSetting(setting(id));
    const example = page.slice(page.indexOf('Written as:\n') + 'Written as:\n'.length).split('\n\n')[0] ?? '';
    let at: unknown = parse(example);
    for (const name of id.split('.')) {
      if (typeof at !== 'object' || at === null) throw new Error(id);
      at = Object.entries(at).find(([key]) => key === name)?.[1];
    }
    expect(at, id).toBeDefined();
    expect(page, id).not.toMatch(/undefined|\[object|\.\.\n/);
  }
});
