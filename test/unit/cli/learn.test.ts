import Ajv2020 from 'ajv/dist/2020.js';
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readDialect } from '../../../src/1-load/read-document.ts';
import { inFolder, thumbwright } from '../../support/cli.ts';

const stock = 'profiles/dialects/withy/stock/0.8.2';

describe('learn --sheet', () => {
  it('prints the recipe for a device, with what its own controls are called', () => {
    inFolder((folder) => {
      const ran = thumbwright(['learn', 'fen', '--sheet', '--first-ten', '--frontend', 'the player'], folder);
      expect([ran.status, ran.said]).toEqual([0, '']);
      expect(ran.out).toMatch(/^Learn the player on Fen: 7 copies\n/);
      // Fen holds Fn, and opens the menu with L: neither is ever given to anything else.
      expect(ran.out).toMatch(/Leave alone Fn \(.*\) and L \(/);
      expect(ran.out).not.toMatch(/\[ \] [^\n]*: (Fn|L) \(/);
    });
  });

  it('heeds what the device itself holds, and writes a page', () => {
    inFolder((folder) => {
      const ran = thumbwright(
        ['learn', 'fen', '--sheet', '--hold', 'select', '--menu', 'north', '--html', 'sheet.html'],
        folder,
      );
      expect([ran.status, ran.out]).toEqual([0, 'wrote sheet.html\n']);
      const page = readFileSync(join(folder, 'sheet.html'), 'utf8');
      expect(page).toContain('Leave alone Sel (');
      expect(page).not.toMatch(/<td[^>]*>(Sel|X) \(/);
    });
  });

  it('asks a menu that plays as well for what both have', () => {
    inFolder((folder) => {
      const ran = thumbwright(['learn', 'fen', '--sheet', '--role', 'menu, player'], folder);
      expect([ran.status, ran.said]).toEqual([0, '']);
      expect(ran.out).toMatch(/leave the game/i);
      expect(ran.out).toMatch(/favourites/i);
    });
  });

  it.each([
    [['learn'], 2, /--sheet or --verify/],
    [['learn', 'fen', '--sheet', '--verify', stock], 2, /--sheet or --verify/],
    [['learn', '--sheet'], 2, /say which profile/],
    [['learn', 'fen', '--sheet', '--hold', 'mdoe'], 2, /--hold wants a position/],
    [['learn', 'fen', '--sheet', '--role', 'king'], 2, /role is player, menu, shelf, system/],
    [['learn', 'fen', '--sheet', '--role', 'menu,king'], 2, /not "king"/],
    [['learn', 'tarn', '--verify', stock], 2, /say which frontend/],
    [['learn', 'tarn', '--verify', stock, '--frontend', 'wihty'], 2, /There are: os, harrow-hall, withy/],
    [['learn', 'tarn', '--verify', 'no-such', '--frontend', 'withy'], 2, /is not a folder/],
  ])('%j is wrong usage, and says what is right', (args, status, said) => {
    inFolder((folder) => {
      const ran = thumbwright(args, folder);
      expect([ran.status, ran.out]).toEqual([status, '']);
      expect(ran.said).toMatch(said);
    });
  });

  it('leaves nothing behind where the page cannot be written', () => {
    inFolder((folder) => {
      const ran = thumbwright(['learn', 'fen', '--sheet', '--html', 'profiles'], folder);
      expect(ran.status).toBe(3);
      expect(ran.said).toMatch(/cannot be written/);
      expect(existsSync(join(folder, 'profiles', 'fen.yaml'))).toBe(true);
    });
  });
});

describe('learn --verify', () => {
  it('plays a dialect through on a folder, shows no secret, and writes nothing', () => {
    inFolder((folder) => {
      const before = readFileSync(join(folder, stock, 'weave.toml'), 'utf8');
      const ran = thumbwright(['learn', 'tarn', '--verify', stock, '--frontend', 'withy'], folder);
      expect([ran.status, ran.said]).toEqual([0, '']);
      expect(ran.out.replace(/\s+/g, ' ')).toMatch(
        /withy on withy: \d+ settings, \d+ of them read from the folder; set to \d+ values: all came back\./,
      );
      expect(ran.out).not.toMatch(/account|password/);
      expect(readFileSync(join(folder, stock, 'weave.toml'), 'utf8')).toBe(before);
    });
  });
});

describe('learn from copies', () => {
  const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
  const validate = ajv.compile(JSON.parse(readFileSync('schema/learn-output.schema.json', 'utf8')) as object);
  const cases = resolve('test/cases/learn/before-and-after');
  const valid = (text: string): Record<string, unknown> => {
    const document = JSON.parse(text) as Record<string, unknown>;
    validate(document);
    expect(validate.errors ?? [], text.slice(0, 300)).toEqual([]);
    return document;
  };
  /** In a folder with the demo, the copies of one case, and one that holds a password. */
  const inCopies = (work: (folder: string, dialect: string) => void): void => {
    inFolder((folder) => {
      for (const name of ['before', 'after']) cpSync(join(cases, name), join(folder, name), { recursive: true });
      mkdirSync(join(folder, 'secret'));
      writeFileSync(
        join(folder, 'secret', 'play.conf'),
        'keep-place: on\ntrophy-user: a heron\ntrophy-password: rain-on-7-roofs\nwindow-x: 3\n',
      );
      work(folder, join(folder, 'profiles', 'dialects', 'player.yaml'));
    });
  };
  const from = (...copies: readonly string[]): readonly string[] => ['learn', 'fen', ...copies, '--frontend', 'player'];
  const labelled = [...from('before', 'after'), '--changed', 'saves.state-on-exit=true'];

  it('writes what is sure, and of the likely nothing without a word', () => {
    inCopies((folder, dialect) => {
      const ran = thumbwright(labelled, folder);
      expect(ran.status).toBe(0);
      expect(ran.out).toMatch(/^Sure:\n {2}saves\.state-on-exit: keep-place/m);
      expect(ran.said).toContain('1 likely one is right. To take all of it unasked:\n  --take likely\n');
      expect(ran.said).toContain('wrote profiles/dialects/player.yaml');
      const text = readFileSync(dialect, 'utf8');
      const data = readDialect({ name: 'player.yaml', text }).value?.data;
      expect(Object.keys(data?.settings ?? {})).toEqual(['saves.state-on-exit']);
      expect(text).toContain('# likely: display.smoothing: ');
      // The word given later: what was a comment is an entry, and the comment is gone.
      const later = thumbwright([...labelled, '--take', 'display.smoothing'], folder);
      expect([later.status, later.said]).toEqual([0, 'wrote profiles/dialects/player.yaml\n']);
      const extended = readFileSync(dialect, 'utf8');
      expect(Object.keys(readDialect({ name: 'player.yaml', text: extended }).value?.data.settings ?? {})).toEqual([
        'saves.state-on-exit',
        'display.smoothing',
      ]);
      expect(extended).not.toContain('# likely: display.smoothing');
      expect(thumbwright([...labelled, '--take', 'likely'], folder).said).toBe(
        'profiles/dialects/player.yaml says all of it already.\n',
      );
      expect(readFileSync(dialect, 'utf8')).toBe(extended);
    });
  });

  it('tells from one copy what its names say, and writes nothing unasked', () => {
    inCopies((folder, dialect) => {
      const ran = thumbwright(from('before'), folder);
      expect(ran.status).toBe(1);
      expect(ran.out).toMatch(
        /^Likely:\n {2}saves\.state-on-exit: keep-place in play\.conf\n {4}it says 'keep place'/m,
      );
      expect(ran.said).toContain('Nothing was written: nothing is sure, and nobody said yes to the rest.\n');
      expect(existsSync(dialect)).toBe(false);
      expect(thumbwright([...from('before'), '--take', 'likely'], folder).status).toBe(0);
      const { settings } = readDialect({ name: 'player.yaml', text: readFileSync(dialect, 'utf8') }).value?.data ?? {};
      expect(settings).toMatchObject({
        'saves.state-on-exit': { key: 'keep-place', values: { true: 'on', false: 'off' } },
      });
    });
  });

  it('shows no secret of a copy, and writes none', () => {
    inCopies((folder, dialect) => {
      for (const more of [[], ['--json', '--dry-run'], ['--take', 'likely']]) {
        const ran = thumbwright([...from('secret'), ...more], folder);
        expect(ran.out).toMatch(/achievements\.password/);
        expect(ran.out + ran.said).not.toMatch(/heron|roofs/);
      }
      expect(readFileSync(dialect, 'utf8')).not.toMatch(/heron|roofs/);
    });
  });

  it('prints the document that its schema describes', () => {
    inCopies((folder, dialect) => {
      const told = thumbwright([...labelled, '--json', '--dry-run'], folder);
      expect([told.status, told.said]).toEqual([0, '']);
      expect(valid(told.out)).toMatchObject({ document: 'learn', wrote: [], findings: [] });
      expect(existsSync(dialect)).toBe(false);
      expect(valid(thumbwright([...labelled, '--json', '--take', 'likely'], folder).out)).toMatchObject({
        wrote: ['profiles/dialects/player.yaml'],
        learnt: { unexplained: [{ file: 'play.conf', key: 'flush' }] },
      });
      // Nothing followed the change, which is a finding and no proposal.
      const still = thumbwright([...from('before', 'before'), '--changed', 'exit.ask-first=true', '--json'], folder);
      expect(still.status).toBe(1);
      expect(valid(still.out)).toMatchObject({ findings: [{ code: 'change-changed-nothing' }] });
    });
  });

  it.each([
    [from(), /learn wants the profile of the device/],
    [['learn', 'fen', 'before'], /say what the frontend is called here/],
    [from('no-such'), /is no folder that can be read/],
    [[...from('before'), '--changed', 'saves.keep=true'], /No setting is called "saves\.keep"/],
    [[...from('before'), '--changed', '7:exit.ask-first=true'], /there are 1 copies, counted from 1/],
    [[...from('before'), '--take', 'exit.ask-first'], /nothing that can be taken is proposed for it/],
  ])('%j is wrong usage, and writes nothing', (args, said) => {
    inCopies((folder, dialect) => {
      const ran = thumbwright(args, folder);
      expect(ran.status).toBe(2);
      expect(ran.said).toMatch(said);
      expect(existsSync(dialect)).toBe(false);
    });
  });
});
