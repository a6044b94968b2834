import { expect, test } from 'vitest';
import { positions } from '../../../src/vocabulary/positions.ts';
import { settingById, settings } from '../../../src/vocabulary/registry.ts';
import { groups, sectionPath, settingAt } from '../../../src/vocabulary/sections.ts';

// The table of the design's vocabulary, copied by hand: every name of it must be a setting.
const table: Readonly<Record<string, readonly string[]>> = {
  hotkeys: [
    'hold',
    ...[
      'exit-game open-menu pause fast-forward slow-motion rewind save-state load-state next-state-slot',
      'previous-state-slot reset-game screenshot show-frame-rate mute change-disc disc-lid swap-screens turn-screen',
    ]
      .join(' ')
      .split(' ')
      .map((action) => `bind.${action}`),
  ],
  pad: [
    'south east west north dpad-up dpad-down dpad-left dpad-right shoulder-left shoulder-right trigger-left',
    'trigger-right thumb-left thumb-right start select follow dead-zone stick-as-dpad rumble',
  ]
    .join(' ')
    .split(' '),
  exit: ['ask-first'],
  saves: [
    'state-on-exit resume-on-start write-save-every state-slots.count state-slots.order state-file.packed',
    'state-file.picture layout save-folder state-folder',
  ]
    .join(' ')
    .split(' '),
  display: [
    'aspect whole-number-scaling smoothing filter colour-correction turn border frame-rate-shown',
    'brightness-at-start screen-off-after',
  ]
    .join(' ')
    .split(' '),
  'input-lag': ['read-late', 'frames-hidden'],
  speed: 'fast-forward-limit slow-motion mute-when-fast rewind.on rewind.memory skip-frames'.split(' '),
  sound: 'volume-at-start volume-limit latency mute'.split(' '),
  power: [
    'profile short-press long-press lid sleep-after off-after-sleep low-battery.at low-battery.does charge-limit lights',
  ]
    .join(' ')
    .split(' '),
  cores: ['choice', 'options'],
  menus: ['language theme text-size clock-shown confirm hidden-systems sort favourites-first start-in access']
    .join(' ')
    .split(' '),
  time: ['zone', 'clock-24h', 'from-network'],
  network: ['networks', 'country', 'remote-login', 'file-sharing'],
  achievements: ['enabled', 'account', 'password', 'strict', 'show-progress'],
  artwork: 'picture take languages width systems account password request-limit'.split(' '),
  tv: ['mode', 'sound-output', 'border', 'overscan'],
  games: ['favourites', 'lists', 'hidden', 'cheats-folder', 'patch-beside-game'],
};

const tableIds = Object.entries(table).flatMap(([group, names]) => names.map((name) => `${group}.${name}`));

test('every name of the table is a setting, and the groups are those of the table', () => {
  expect(tableIds.filter((id) => settingById(id) === undefined)).toEqual([]);
  expect(groups).toEqual(Object.keys(table));
});

test('the settings of the table stand in its order', () => {
  const known = new Set(tableIds);
  const inOrder = (ids: readonly string[]): readonly string[] =>
    ids.filter((id) => known.has(id) && !id.startsWith('pad.'));
  expect(inOrder(settings.map(({ id }) => id))).toEqual(inOrder(tableIds));
});

test('ids are unique, and no id is a section of another', () => {
  const ids = settings.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) {
    expect(id).toMatch(/^[a-z]+(-[a-z]+)*(\.[a-z0-9]+(-[a-z0-9]+)*){1,2}$/);
    expect(ids.filter((other) => other.startsWith(`${id}.`))).toEqual([]);
  }
});

test('the table names no hotkey as destructive or frequent but these', () => {
  expect(settings.filter((setting) => setting.destructive === true).map(({ id }) => id)).toEqual([
    'hotkeys.bind.load-state',
    'hotkeys.bind.reset-game',
  ]);
  expect(settings.filter((setting) => setting.frequent === true).map(({ id }) => id)).toEqual([
    'hotkeys.bind.open-menu',
    'hotkeys.bind.pause',
    'hotkeys.bind.fast-forward',
    'hotkeys.bind.save-state',
  ]);
});

test.each(settings.map((setting) => [setting.id, setting] as const))('%s is described for people', (_, setting) => {
  const sentences = /^[A-Z].*[.]$/s;
  expect(setting.description).toMatch(sentences);
  expect(setting.description.length).toBeLessThan(220);
  if (setting.hazard !== undefined) expect(setting.hazard).toMatch(sentences);
  expect(setting.reads).toContain('{value}');
  expect(setting.reads).not.toMatch(/\.$/);
  expect(setting.roles.length).toBeGreaterThan(0);
  // Every setting may be given for a whole instance, and scopes go from wide to narrow.
  const order = ['instance', 'core', 'system', 'game'];
  expect(setting.scopes[0]).toBe('instance');
  expect(setting.scopes).toEqual(order.filter((scope) => setting.scopes.some((own) => own === scope)));
});

test('words are lower-case phrases, many for each setting, and the first is of one setting alone', () => {
  const first = new Map<string, string>();
  for (const { id, words } of settings) {
    expect(words.length, id).toBeGreaterThanOrEqual(3);
    expect(new Set(words).size, id).toBe(words.length);
    for (const word of words) expect(word, id).toMatch(/^[a-z0-9]+( [a-z0-9]+)*$/);
    const [telling = ''] = words;
    expect(first.get(telling), `${id} shares its first word`).toBeUndefined();
    first.set(telling, id);
  }
});

test('what belongs to the device is not given for a game', () => {
  const whole = settings.filter(({ id }) => /^(network|time|menus|tv)\./.test(id));
  expect(whole.filter(({ scopes }) => scopes.length > 1)).toEqual([]);
});

test('the pad inputs are positions', () => {
  const inputs = settings.filter(({ id, type }) => id.startsWith('pad.') && type.kind === 'control');
  expect(
    inputs.map(({ id }) => id.slice(4)).filter((name) => !positions.some((position) => position === name)),
  ).toEqual([]);
});

test('a section path leads to its setting and nothing else does', () => {
  for (const setting of settings) {
    const path = sectionPath(setting.id);
    expect(settingAt(path)).toBe(setting);
    expect(settingAt(path.slice(0, -1))).toBeUndefined();
    expect(settingAt([...path, 'more'])).toBeUndefined();
  }
  expect(settingAt([])).toBeUndefined();
  for (const name of ['constructor', '__proto__', 'toString']) expect(settingById(name)).toBeUndefined();
});
