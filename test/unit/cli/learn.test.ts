import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
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

  it.each([
    [['learn'], 2, /--sheet or --verify/],
    [['learn', 'fen', '--sheet', '--verify', stock], 2, /--sheet or --verify/],
    [['learn', '--sheet'], 2, /say which profile/],
    [['learn', 'fen', '--sheet', '--hold', 'mdoe'], 2, /--hold wants a position/],
    [['learn', 'fen', '--sheet', '--role', 'king'], 2, /role is player, menu, shelf, system/],
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
