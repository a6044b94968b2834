import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { settingById, settings } from '../../src/vocabulary/registry.ts';
import { kinds } from '../support/vocabulary/documents.ts';
import { startEditor } from '../support/vocabulary/language-server.ts';
import type { Editor } from '../support/vocabulary/language-server.ts';

// yaml-language-server 1.25, the server behind the YAML support of common editors, as another process.
let editor: Editor;
beforeAll(async () => {
  editor = await startEditor();
});
afterAll(async () => {
  await editor.close();
});

function modeline(kind: string): string {
  return `# yaml-language-server: $schema=../schema/${kind}.schema.json\n`;
}

/** Where `|` stands in a text, and the text without it. */
function cursor(marked: string): { readonly text: string; readonly line: number; readonly character: number } {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  return { text: marked.replace('|', ''), line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}

async function offered(name: string, marked: string): Promise<readonly string[]> {
  const { text, line, character } = cursor(marked);
  await editor.open(name, text);
  return editor.complete(name, line, character);
}

async function shown(name: string, marked: string): Promise<string> {
  const { text, line, character } = cursor(marked);
  await editor.open(name, text);
  return editor.hover(name, line, character);
}

function namesBelow(section: string): readonly string[] {
  const below = settings.flatMap(({ id }) =>
    id.startsWith(`${section}.`) ? [id.slice(section.length + 1).split('.')[0]] : [],
  );
  return [...new Set(below)].filter((name) => name !== undefined).sort();
}

test.each(['saves', 'display', 'power', 'network'])(
  'the settings of %s: are offered in a house, and no others',
  async (section) => {
    const labels = await offered(
      `house-${section}.yaml`,
      `${modeline('house')}house: all\nformat: 1\n${section}:\n  |\n`,
    );
    expect([...labels].sort()).toEqual(namesBelow(section));
  },
);

test('the settings of a section are offered in an only block', async () => {
  const labels = await offered(
    'only.yaml',
    `${modeline('profile')}profile: fen\nformat: 1\nonly:\n  - for: { system: burdock }\n    saves:\n      |\n`,
  );
  expect([...labels].sort()).toEqual(namesBelow('saves'));
});

test('the words of a setting, and positions for a hotkey, are offered as values', async () => {
  expect(await offered('words.yaml', `${modeline('house')}house: all\nformat: 1\nsaves:\n  layout: |\n`)).toEqual(
    expect.arrayContaining(['beside-games', 'one-folder', 'by-system', 'by-core']),
  );
  expect(
    await offered('bind.yaml', `${modeline('house')}house: all\nformat: 1\nhotkeys:\n  bind:\n    exit-game: |\n`),
  ).toEqual(expect.arrayContaining(['south', 'dpad-up', 'shoulder-left', 'none']));
});

test('every setting id is offered in a dialect', async () => {
  const labels = await offered(
    'dialect.yaml',
    `${modeline('dialect')}dialect: x\nformat: 1\nversion: 1.0.0\nfor-versions: ">=1"\nrole: player\nfiles: {}\nsettings:\n  |\n`,
  );
  expect([...labels].sort()).toEqual(settings.map(({ id }) => id).sort());
});

test.each([
  ['house', 'house: all\nformat: 1\nsaves:\n  res|ume-on-start: true\n', 'saves.resume-on-start'],
  ['profile', 'profile: fen\nformat: 1\nhotkeys:\n  bind:\n    load-|state: south\n', 'hotkeys.bind.load-state'],
  [
    'profile',
    'profile: fen\nformat: 1\nonly:\n  - for: { core: x }\n    speed: { rewind: { mem|ory: 8 MiB } }\n',
    'speed.rewind.memory',
  ],
  ['dialect', 'dialect: x\nformat: 1\nsettings:\n  time.z|one: { file: a, key: b, text: c }\n', 'time.zone'],
] as const)('hovering over a key of a %s shows what the setting does: %#', async (kind, marked, id) => {
  const text = await shown(`hover-${kind}-${id}.yaml`, modeline(kind) + marked);
  const setting = settingById(id);
  // The server escapes Markdown's signs.
  const plain = text.replaceAll('\\', '').replaceAll('&nbsp;', ' ');
  expect(plain).toContain(setting?.description);
  expect(plain).toContain(setting?.hazard ?? id);
});

test.each([
  ['a misspelt setting', 'house', 'house: all\nformat: 1\nsaves:\n  state-on-exti: true\n', 4, 2],
  ['a misspelt section', 'house', 'house: all\nformat: 1\nsave:\n  state-on-exit: true\n', 3, 0],
  ['a wrong word', 'house', 'house: all\nformat: 1\nsaves:\n  layout: by-colour\n', 4, 10],
  ['a text for a boolean', 'house', 'house: all\nformat: 1\nsaves: { state-on-exit: "yes" }\n', 3, 24],
  ['a time without its unit', 'house', 'house: all\nformat: 1\nsaves:\n  write-save-every: 10\n', 4, 20],
  [
    'a misspelt setting in an only block',
    'profile',
    'profile: fen\nformat: 1\nonly:\n  - for: { core: x }\n    sound: { volume: 3 }\n',
    5,
    13,
  ],
  [
    'an unknown setting of a dialect',
    'dialect',
    'dialect: x\nformat: 1\nversion: 1.0.0\nfor-versions: "*"\nrole: menu\nfiles: {}\nsettings:\n  time.zonee: {}\n',
    8,
    2,
  ],
] as const)('%s is marked where it stands', async (what, kind, text, line, character) => {
  const diagnostics = await editor.open(`typo-${what.replaceAll(' ', '-')}.yaml`, modeline(kind) + text);
  expect(diagnostics.map(({ range }) => range.start)).toEqual([{ line, character }]);
});

test.each(kinds)('nothing is marked in the %s that shows every form', async (kind) => {
  const text = readFileSync(new URL(`../support/vocabulary/${kind}.yaml`, import.meta.url), 'utf8');
  expect(await editor.open(`legal-${kind}.yaml`, modeline(kind) + text)).toEqual([]);
});

test('nothing is marked in the demo', async () => {
  const files = existsSync('profiles')
    ? readdirSync('profiles', { recursive: true, encoding: 'utf8' }).filter(
        (name) => name.endsWith('.yaml') && !name.includes('stock'),
      )
    : [];
  const marked: string[] = [];
  for (const name of files) {
    const text = readFileSync(`profiles/${name}`, 'utf8');
    // A file without the comment would be checked against nothing.
    const schema = /^# yaml-language-server: \$schema=(\S+)$/m.exec(text)?.[1] ?? 'nowhere';
    if (!existsSync(join('profiles', dirname(name), schema))) marked.push(`${name}: names no schema that is there`);
    for (const { range, message } of await editor.open(name, text))
      marked.push(`${name}:${range.start.line + 1}: ${message}`);
  }
  expect(marked).toEqual([]);
});
