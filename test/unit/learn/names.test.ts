import { expect, test } from 'vitest';
import { systemTexts } from '../../../src/learn/copies/named-system.ts';
import { proposeByNames } from '../../../src/learn/names/propose-by-names.ts';
import { seeKeys } from '../../../src/learn/names/seen-key.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { decodeBytes } from '../../../src/text/encoding.ts';
import { readCorpus } from '../../support/learn/read-corpus.ts';

const systems = systemTexts(undefined);

function propose(text: string, syntax: 'pairs' | 'ini' | 'yaml' = 'ini'): ReturnType<typeof proposeByNames> {
  const { tree } = syntaxes[syntax].parse({ name: 'x', text }, {});
  if (tree === undefined) throw new Error('it does not parse');
  return proposeByNames(seeKeys({ path: 'x', syntax, tree, systems }));
}

function likely(text: string, syntax: 'pairs' | 'ini' | 'yaml' = 'ini'): Readonly<Record<string, string>> {
  return Object.fromEntries(
    propose(text, syntax)
      .filter(({ grade }) => grade === 'likely')
      .flatMap(({ setting, keys }) => keys.map(({ key }) => [key, setting.id])),
  );
}

test.each([
  ['compound words', 'autosave=1\n', 'autosave', 'saves.state-on-exit'],
  ['camelCase', 'confirmQuit=yes\n', 'confirmQuit', 'exit.ask-first'],
  ['word order', 'RATIO_ASPECT=4:3\n', 'RATIO_ASPECT', 'display.aspect'],
  ['a word of another language', 'Passwort=abc-d\n', 'Passwort', 'achievements.password'],
  ['a unit for a word', 'rewind_mb=20\n', 'rewind_mb', 'speed.rewind.memory'],
])('a key is told by %s', (_, text, key, id) => {
  expect(likely(text, 'pairs')).toMatchObject({ [key]: id });
});

test('a sense turned round turns the spellings round', () => {
  const [skip] = propose('skip-quit-question=no\n', 'pairs');
  expect(skip).toMatchObject({
    setting: { id: 'exit.ask-first' },
    guess: { codec: { values: { true: 'no', false: 'yes' } } },
  });
});

test('where the key is a number, the comment above is its name', () => {
  expect(likely('# ask before quitting a game\n17: 1\n', 'yaml')).toEqual({ 17: 'exit.ask-first' });
});

test('one word is a hotkey among hotkeys and a switch among switches', () => {
  const text = '[hotkeys]\nrewind=button 4\nscreenshot=button 5\n[speed]\nrewind=on\n';
  expect(likely(text)).toEqual({
    '[hotkeys] rewind': 'hotkeys.bind.rewind',
    '[hotkeys] screenshot': 'hotkeys.bind.screenshot',
    '[speed] rewind': 'speed.rewind.on',
  });
});

test.each(['pause-advert=5', 'quit-fade-ms=200', 'language-last-seen=en', 'mute-icon=bell', 'screenshot-count=14'])(
  'a look-alike is left: %s',
  (line) => {
    expect(likely(`${line}\n`, 'pairs')).toEqual({});
  },
);

test.each([
  ['turbo-sound=yes\n', 'speed.mute-when-fast', { values: { true: 'no', false: 'yes' } }],
  ['NO_SOUND=1\n', 'sound.mute', { values: { true: '1', false: '0' } }],
  ['dead-zone=0.15\n', 'pad.dead-zone', { number: { unit: '%', scale: 0.01, step: 0.01 } }],
  ['rewindMiB=48\n', 'speed.rewind.memory', { number: { unit: 'MiB' } }],
  ['save-every-ms=1500\n', 'saves.write-save-every', { number: { unit: 'ms', words: { never: '0' } } }],
  ['ask-before-leaving=sim\nrumble=nao\n', 'exit.ask-first', { values: { true: 'sim', false: 'nao' } }],
])('one text tells the spelling of %j', (text, id, codec) => {
  expect(propose(text, 'pairs').find(({ setting }) => setting.id === id)?.guess).toMatchObject({
    kind: 'codec',
    codec,
  });
});

test.each([
  ['rewind-memory-mb=20\n', 'speed.rewind.memory', 'whether its unit is MB or MiB'],
  ['sound-delay=64\n', 'sound.latency', 'the unit of its number'],
  ['screen-shape=2\n', 'display.aspect', 'which text stands for which value'],
  ['pause-button=3\n', 'hotkeys.bind.pause', 'how controls are numbered'],
])('one text does not tell the spelling of %j', (text, id, why) => {
  expect(propose(text, 'pairs').find(({ setting }) => setting.id === id)?.guess).toEqual({ kind: 'open', why });
});

test('a word that every object of the language has is a word like others', () => {
  expect(likely('constructor=1\nconstructor-hold=2\nhas_own_property=3\n', 'pairs')).toEqual({});
});

test('no value is repeated as evidence', () => {
  const proposals = propose('trophies_password=heron-4-lake\ntrophies_user=marit\n', 'pairs');
  expect(proposals.map(({ setting }) => setting.id)).toContain('achievements.password');
  expect(JSON.stringify(proposals.map(({ evidence, guess, rivals }) => [evidence, guess, rivals]))).not.toMatch(
    /heron|marit/,
  );
});

test('nothing of the tuning part that is noise or a look-alike is likely', () => {
  const kinds = {
    cf: 'pairs',
    xml: 'xml',
    json: 'json',
    INI: 'ini',
    toml: 'toml',
    yaml: 'yaml',
    properties: 'properties',
  } as const;
  let likely = 0;
  for (const { name, copies, noise, lookAlikes } of readCorpus('tuning')) {
    const keys = [...(copies[0]?.files ?? [])].flatMap(([path, bytes]) => {
      const syntax = Object.entries(kinds).find(([ending]) => path.endsWith(`.${ending}`))?.[1] ?? 'pairs';
      const { tree } = syntaxes[syntax].parse({ name: path, text: decodeBytes(Buffer.from(bytes)) }, {});
      return tree === undefined ? [] : seeKeys({ path, syntax, tree, systems });
    });
    const told = proposeByNames(keys).filter(({ grade }) => grade === 'likely');
    likely += told.length;
    const barred = new Set([...noise, ...lookAlikes].map(({ file, key }) => `${file} ${key}`));
    expect(
      told.flatMap((one) => one.keys.map(({ file, key }) => `${file} ${key}`)).filter((at) => barred.has(at)),
      name,
    ).toEqual([]);
  }
  // Some say nothing here: their keys are numbers, of another language, or named by an attribute.
  expect(likely).toBeGreaterThan(100);
});
