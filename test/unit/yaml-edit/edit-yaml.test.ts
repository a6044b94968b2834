import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { load } from 'js-yaml';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { editYaml, setInYaml } from '../../../src/yaml-edit/edit-yaml.ts';
import type { YamlChange } from '../../../src/yaml-edit/edit-yaml.ts';
import type { PlainYaml } from '../../../src/yaml-edit/plain-yaml.ts';
import { plainOf } from '../../support/syntax/edited-object.ts';
import { yamlText } from '../../support/syntax/yaml-texts.ts';

function edited(text: string, changes: readonly YamlChange[]): string {
  const { value, findings } = editYaml({ name: 'fen.yaml', text }, changes);
  const [first] = findings;
  return first === undefined ? applyEdits(text, value) : `${first.code}: ${first.detail}`;
}

const profile = `# Fen
profile: fen   # its name
format: 1
extends: house.yaml

device:
  controls:
    west: { label: Y, code: BTN_NORTH }   # crosswise
    north: { label: X }

hotkeys:
  # held down
  hold: mode
  bind:
    exit-game: start
    fast-forward: { control: [trigger-right, east], while: held }

only:
  - for: { system: burdock }
    saves: { resume-on-start: false }
allow: [ { finding: hold-reaches-game, because: 'no game uses Fn' } ]
`;

describe('edits of a profile', () => {
  it.each<[string, YamlChange[], string, string]>([
    ['a value', [{ op: 'set', path: ['hotkeys', 'hold'], value: 'select' }], 'hold: mode', 'hold: select'],
    ['nothing', [{ op: 'set', path: ['format'], value: 1 }], 'format', 'format'],
    ['a version keeps its spelling', [{ op: 'set', path: ['format'], value: '1' }], 'format', 'format'],
    [
      'a new key',
      [{ op: 'set', path: ['hotkeys', 'bind', 'mute'], value: 'none' }],
      'while: held }\n',
      'while: held }\n    mute: none\n',
    ],
    [
      'a new key in order',
      [
        {
          op: 'set',
          path: ['hotkeys', 'bind', 'open-menu'],
          value: 'select',
          order: ['exit-game', 'open-menu', 'fast-forward'],
        },
      ],
      'exit-game: start\n',
      'exit-game: start\n    open-menu: select\n',
    ],
    [
      'first in order',
      [
        { op: 'set', path: ['format'], value: 2 },
        { op: 'set', path: ['hotkeys', 'note'], value: 'x', order: ['note', 'hold'] },
      ],
      '',
      '',
    ],
    [
      'a new group of values',
      [{ op: 'set', path: ['saves'], value: { 'state-on-exit': true, 'write-save-every': '10 s' } }],
      `'no game uses Fn' } ]\n`,
      `'no game uses Fn' } ]\nsaves:\n  state-on-exit: true\n  write-save-every: 10 s\n`,
    ],
    [
      'a group, where only what differs moves',
      [
        {
          op: 'set',
          path: ['hotkeys', 'bind'],
          value: { 'exit-game': 'start', 'fast-forward': { control: ['east'], while: 'held' } },
        },
      ],
      'control: [trigger-right, east]',
      'control: [east]',
    ],
    [
      'removes a group',
      [{ op: 'remove', path: ['device'] }],
      profile.slice(profile.indexOf('device:'), profile.indexOf('\nhotkeys')),
      '',
    ],
    [
      'removes an item',
      [{ op: 'remove', path: ['only', 0] }],
      'only:\n  - for: { system: burdock }\n    saves: { resume-on-start: false }\n',
      'only: []\n',
    ],
    [
      'appends an item',
      [{ op: 'append', path: ['only'], value: { for: { core: 'thrush' }, display: { smoothing: true } } }],
      'resume-on-start: false }\n',
      'resume-on-start: false }\n  - for:\n      core: thrush\n    display:\n      smoothing: true\n',
    ],
    [
      'appends in brackets',
      [{ op: 'append', path: ['allow'], value: { finding: 'x-found' } }],
      `Fn' } ]`,
      `Fn' }, { finding: x-found } ]`,
    ],
    [
      'renames a key',
      [{ op: 'rename', path: ['hotkeys', 'bind', 'exit-game'], name: 'quit' }],
      'exit-game: start',
      'quit: start',
    ],
    [
      'renames and sets',
      [
        { op: 'rename', path: ['hotkeys', 'bind', 'exit-game'], name: 'quit' },
        { op: 'set', path: ['hotkeys', 'bind', 'exit-game'], value: 'mode' },
      ],
      'exit-game: start',
      'quit: mode',
    ],
  ])('%s', (name, changes, from, to) => {
    const expected =
      name === 'first in order'
        ? profile.replace('format: 1', 'format: 2').replace('  # held down\n', '  note: x\n  # held down\n')
        : profile.replace(from, to);
    expect(edited(profile, changes)).toBe(expected);
  });

  it.each<[string, string, YamlChange[], string]>([
    ['a name that is taken', 'a: 1\nb: 2\n', [{ op: 'rename', path: ['a'], name: 'b' }], 'key-not-determined'],
    ['an alias', 'a: &x { b: 1 }\nc: *x\n', [{ op: 'set', path: ['c', 'b'], value: 2 }], 'shared-by-alias'],
    ['a list that is none', 'a: 1\n', [{ op: 'append', path: ['a'], value: 2 }], 'key-not-determined'],
    [
      'a key and one inside',
      'a: {}\n',
      [
        { op: 'set', path: ['a'], value: 2 },
        { op: 'set', path: ['a', 'b'], value: 2 },
      ],
      'changes-collide',
    ],
    ['a text that cannot be read', 'a: [\n', [{ op: 'set', path: ['a'], value: 2 }], 'yaml-unreadable'],
  ])('refuses %s', (_, text, changes, code) => {
    const { value, findings } = editYaml({ name: 'fen.yaml', text }, changes);
    expect(findings.map((finding) => finding.code)).toContain(code);
    expect(applyEdits(text, value)).toBe(code === 'changes-collide' ? 'a: 2\n' : text);
  });
});

const plain: fc.Arbitrary<PlainYaml> = fc.letrec<{ value: PlainYaml }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 3, depthSize: 'small' },
    fc.oneof(
      fc.constantFrom<PlainYaml>(null, true, 1, -1.5, 'word', '10 s', '4.0', 'a: b', '', 'l1\nl2\n', '- x'),
      fc.string({ maxLength: 6 }),
    ),
    fc.array(tie('value'), { maxLength: 3 }),
    fc.dictionary(fc.constantFrom('a', 'b', 'odd key', '12', 'note'), tie('value'), { maxKeys: 3 }),
  ),
})).value;

describe('a value of any shape', () => {
  it('is read back by another reader, wherever it is set', () => {
    fc.assert(
      fc.property(yamlText(), fc.constantFrom('a', 'b', 'key', 'fresh'), plain, plain, (text, name, one, other) => {
        for (const value of [one, other]) {
          const { value: edits, findings } = setInYaml({ name: 'fen.yaml', text }, [name], value);
          if (findings.length > 0) {
            expect(edits).toEqual([]);
            return;
          }
          text = applyEdits(text, edits);
          const seen = plainOf(load(text.replaceAll('!own', '!!str')));
          const held = seen instanceof Map ? seen.get(name) : undefined;
          const wanted = plainOf(value);
          // A bare scalar that is spelled as the string stays.
          const sameText = typeof wanted === 'string' && held === Number(wanted);
          if (!sameText) expect(held, text).toEqual(wanted);
          expect(setInYaml({ name: 'fen.yaml', text }, [name], value).value).toEqual([]);
        }
      }),
      { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) },
    );
  });
});
