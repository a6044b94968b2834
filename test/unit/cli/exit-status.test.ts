import { existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import type { Ran } from '../../support/cli.ts';

/** What no run may show: the lines of a stack trace, or a control character that a terminal would obey. */
function expectCalm(ran: Ran): void {
  expect(ran.out + ran.said).not.toMatch(/^ {4}at /m);
  expect(ran.out + ran.said).not.toMatch(/[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/);
}

interface Case {
  readonly name: string;
  readonly prepare: (folder: string) => void;
  readonly args: readonly string[];
  readonly status: number;
  /** Text that the answer holds. */
  readonly says: string;
}

const fen = (folder: string): string => join(folder, 'profiles/fen.yaml');
const nothing = (): void => undefined;

const cases: readonly Case[] = [
  { name: 'a good demo', prepare: nothing, args: ['check', 'fen'], status: 0, says: '' },
  {
    name: 'a missing house',
    prepare: (f) => rmSync(join(f, 'profiles/house.yaml')),
    args: ['build', 'fen'],
    status: 1,
    says: 'file-missing',
  },
  { name: 'an unknown option', prepare: nothing, args: ['build', '--sideways'], status: 2, says: '--sideways' },
  { name: 'an unknown verb', prepare: nothing, args: ['biuld'], status: 2, says: 'build' },
  {
    name: 'no workspace',
    prepare: (f) => {
      rmSync(join(f, 'package.json'));
    },
    args: ['build'],
    status: 2,
    says: 'workspace',
  },
  {
    name: 'a file where out/ is wanted',
    prepare: (f) => writeFileSync(join(f, 'out'), 'mine'),
    args: ['build', 'fen'],
    status: 3,
    says: 'cannot be written',
  },
  {
    name: 'a folder where a file is meant',
    prepare: (f) => {
      rmSync(join(f, 'profiles/house.yaml'));
      mkdirSync(join(f, 'profiles/house.yaml'));
    },
    args: ['build', 'fen'],
    status: 1,
    says: 'not-a-file',
  },
  {
    name: 'an empty file',
    prepare: (f) => writeFileSync(join(f, 'profiles/house.yaml'), ''),
    args: ['build', 'fen'],
    status: 1,
    says: 'empty-file',
  },
  {
    name: 'a binary file',
    prepare: (f) => writeFileSync(join(f, 'profiles/house.yaml'), Buffer.from([0x7f, 0x45, 0, 0, 0xff, 0x1b])),
    args: ['build', 'fen'],
    status: 1,
    says: 'binary-file',
  },
  {
    name: 'a house that is a link out of the workspace',
    prepare: (f) => {
      const house = join(f, 'profiles/house.yaml');
      rmSync(house);

      symlinkSync('/etc/hostname', house);
    },
    args: ['build', 'fen'],
    status: 1,
    says: 'leads-outside',
  },
];

describe('exit statuses of the bundled command', () => {
  it.each(cases)('$name: $status', ({ prepare, args, status, says }) => {
    inFolder((folder) => {
      prepare(folder);
      const ran = thumbwright(args, folder);
      expectCalm(ran);
      expect(ran.out + ran.said).toContain(says);
      expect(ran.status).toBe(status);
      // Nothing is half written: no build that failed leaves a folder.
      if (status !== 0 && existsSync(join(folder, 'out')))
        expect(readFileSync(join(folder, 'out'), 'utf8')).toBe('mine');
    });
  });

  it('reads no dialect through a folder that links out of the workspace', () => {
    inFolder((folder) => {
      inFolder((outside) => {
        rmSync(join(folder, 'profiles/dialects'), { recursive: true });
        symlinkSync(join(outside, 'profiles/dialects'), join(folder, 'profiles/dialects'));
        const ran = thumbwright(['check', 'fen'], folder);
        expectCalm(ran);
        expect(ran.status).toBe(1);
        expect(ran.out + ran.said).toContain('no-such-dialect');
      });
    });
  });

  it('lets no escape sequence of a name, label, key or file name reach the terminal', () => {
    inFolder((folder) => {
      const text = readFileSync(fen(folder), 'utf8');
      const nasty = '\\e[31m\\x9b2J\\u202e';
      const changed = text
        .replace(/^name: .*$/m, `name: "Fen${nasty}"`)
        .replace(/label: B\b/, `label: "B${nasty}"`)
        .concat(`\n"key${nasty}": 1\n`);
      expect(changed).not.toBe(text);
      writeFileSync(fen(folder), changed);
      writeFileSync(join(folder, 'profiles', 'zz\x1b[31m.yaml'), `profile: "zz${nasty}"\nextends: "a${nasty}.yaml"\n`);
      for (const args of [['check'], ['build'], ['explain', 'fen', 'hotkeys.hold'], ['build', '--table']])
        expectCalm(thumbwright(args, folder));
      // Without the unknown key the profile holds, and the hostile texts reach the files and the listings.
      rmSync(join(folder, 'profiles', 'zz\x1b[31m.yaml'));
      writeFileSync(fen(folder), changed.replace(/\n"key.*\n$/, '\n'));
      for (const args of [
        ['check', 'fen'],
        ['build', 'fen', '--table'],
        ['explain', 'fen', 'hotkeys.bind.exit-game'],
      ])
        expectCalm(thumbwright(args, folder));
    });
  });
});
