import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import type { Ran } from '../../support/cli.ts';
import { makeCard } from '../../support/demo-card.ts';

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};

/** Files that are to be wholly ours, as somebody else left them, with passwords of theirs. */
const foreign = {
  'settings/wifi/Reading Room.nmconnection': '[wifi-security]\npsk=lantern5\n',
  'settings/hall/begin.sh': '#!/bin/sh\nTOKEN=quay77 exec play\n',
} as const;

function sha(text: string | Buffer): string {
  return createHash('sha256').update(text).digest('hex');
}

function withForeign(work: (folder: string, card: string, run: (...args: readonly string[]) => Ran) => void): void {
  inFolder((folder) => {
    const card = join(folder, 'card');
    makeCard(card);
    mkdirSync(join(card, 'settings/wifi'), { recursive: true });
    for (const [path, text] of Object.entries(foreign)) writeFileSync(join(card, path), text);
    work(folder, card, (...args) => thumbwright([...args, '--card', 'card'], folder, secrets));
  });
}

/** All that git would take of the workspace. */
function committed(folder: string, at = ''): string {
  return readdirSync(join(folder, at), { withFileTypes: true })
    .map((entry) => {
      const path = join(at, entry.name);
      if (path === 'card' || path === join('.thumbwright', 'private')) return '';
      return entry.isDirectory() ? committed(folder, path) : readFileSync(join(folder, path), 'latin1');
    })
    .join('\n');
}

function recordPath(folder: string): string {
  const cards = join(folder, '.thumbwright/cards');
  return join(cards, readdirSync(cards)[0] ?? '');
}

const yes = ['--yes', '--saves-may-move'] as const;

/** The profile without its network and begin.sh's settings: what stood before us has to come back. */
function letNetworkGo(folder: string): void {
  const house = join(folder, 'profiles/house.yaml');
  writeFileSync(house, readFileSync(house, 'utf8').replace(/^network: .*$/m, ''));
}

describe('hashes in what is committed', () => {
  it('are of no file that somebody else made, and of none with a secret, by which passwords could be guessed', () => {
    withForeign((folder, card, run) => {
      expect(run('write', 'fen', '--plan', 'kept.json').status).toBe(0);
      const plan = readFileSync(join(folder, 'kept.json'), 'utf8');
      rmSync(join(folder, 'kept.json'));
      expect(run('write', 'fen', ...yes).status).toBe(0);
      const all = committed(folder);
      expect(all).toContain('keyed:');
      for (const [path, text] of Object.entries(foreign)) {
        expect(all, path).not.toContain(sha(text));
        expect(plan, path).not.toContain(sha(text));
      }
      const held = Object.values(secrets);
      for (const file of ['settings/hall/play.conf', 'settings/wifi/Reading Room.nmconnection']) {
        const bytes = readFileSync(join(card, file));
        expect(held.some((secret) => bytes.includes(secret))).toBe(true);
        expect(all, file).not.toContain(sha(bytes));
      }
    });
  });

  it('are in a plan of no file in which somebody else may have a password, and of others let it be carried out elsewhere', () => {
    withForeign((folder, card, run) => {
      expect(run('write', 'fen', ...yes).status).toBe(0);
      const annex = join(card, 'settings/annex/keys.conf');
      const own = join(card, 'settings/sedge.ini');
      writeFileSync(annex, `${readFileSync(annex, 'utf8')}their-word: lantern5\n`);
      const house = join(folder, 'profiles/house.yaml');
      const text = readFileSync(house, 'utf8');
      writeFileSync(
        house,
        text.replace('zone: Europe/Dublin', 'zone: Europe/Berlin').replace('mute: shoulder-right', 'mute: west'),
      );
      expect(run('write', 'fen', '--plan', 'kept.json').status).toBe(0);
      const plan = readFileSync(join(folder, 'kept.json'), 'utf8');
      expect(plan).not.toContain(sha(readFileSync(annex)));
      expect(plan).not.toContain('lantern5');
      // Stock, and what the plan itself tells: nothing is to be guessed.
      expect(plan).toContain(sha(readFileSync(own)));
      expect(plan).toContain(sha(readFileSync(join(card, 'settings/hall/keys.conf'))));

      writeFileSync(house, text.replace('zone: Europe/Dublin', 'zone: Europe/Berlin'));
      rmSync(join(folder, 'kept.json'));
      expect(run('write', 'fen', '--plan', 'kept.json').status).toBe(0);
      const elsewhere = join(folder, 'elsewhere');
      mkdirSync(join(elsewhere, '.thumbwright'), { recursive: true });
      cpSync(join(folder, 'kept.json'), join(elsewhere, 'kept.json'));
      const ran = thumbwright(['write', 'kept.json', ...yes, '--card', '../card'], elsewhere, secrets);
      expect([ran.status, ran.said]).toEqual([0, '']);
      expect(readFileSync(own, 'utf8')).toContain('zone = Europe/Berlin');
    });
  });

  it('still bring back what stood there before', () => {
    withForeign((folder, card, run) => {
      expect(run('write', 'fen', ...yes).status).toBe(0);
      letNetworkGo(folder);
      const ran = run('write', 'fen', '--yes');
      expect(ran.status, ran.said).toBe(0);
      const path = 'settings/wifi/Reading Room.nmconnection';
      expect(readFileSync(join(card, path), 'utf8')).toBe(foreign[path]);
    });
  });

  it('of older records are read, and become keyed with the next write; what stood there comes back all the same', () => {
    withForeign((folder, card, run) => {
      expect(run('write', 'fen', ...yes).status).toBe(0);
      const path = 'settings/wifi/Reading Room.nmconnection';
      const record = recordPath(folder);
      const kept = readFileSync(record, 'utf8');
      const now =
        /(path: "?settings:wifi\/Reading Room\.nmconnection"?[\s\S]*?before: )\{ ?keyed: ("?[0-9a-f]{64}"?) ?\}/;
      expect(kept).toMatch(now);
      const old = kept.replace(now, (_all, before: string) => `${before}"${sha(foreign[path])}"`);
      writeFileSync(record, old);
      const again = run('write', 'fen', '--yes');
      expect(again.status, again.said).toBe(0);
      expect(again.out).toContain('nothing is to be written');
      expect(readFileSync(record, 'utf8')).toBe(kept);
      writeFileSync(record, old);
      letNetworkGo(folder);
      expect(run('write', 'fen', '--yes').status).toBe(0);
      expect(readFileSync(join(card, path), 'utf8')).toBe(foreign[path]);
    });
  });
});

describe('a write that changes no file', () => {
  it('saves the record all the same', () => {
    withForeign((folder, card, run) => {
      expect(run('write', 'fen', ...yes).status).toBe(0);
      const record = recordPath(folder);
      const before = readFileSync(record, 'utf8');
      // The person writes into the profile what the card's menu was set to: the card has it already.
      const play = join(card, 'settings/hall/play.conf');
      const annex = join(card, 'settings/annex/play.conf');
      for (const path of [play, annex])
        writeFileSync(path, readFileSync(path, 'utf8').replace('flush: 10000', 'flush: 30000'));
      const house = join(folder, 'profiles/house.yaml');
      writeFileSync(house, readFileSync(house, 'utf8').replace('write-save-every: 10 s', 'write-save-every: 30 s'));
      const texts = [play, annex].map((path) => readFileSync(path, 'utf8'));
      const ran = run('write', 'fen', '--yes');
      expect(ran.status, ran.said).toBe(0);
      expect([play, annex].map((path) => readFileSync(path, 'utf8'))).toEqual(texts);
      const after = readFileSync(record, 'utf8');
      expect(after).not.toBe(before);
      expect(after).toContain('30000');
      // So a later change in the profile is no conflict with the hand.
      writeFileSync(house, readFileSync(house, 'utf8').replace('write-save-every: 30 s', 'write-save-every: 20 s'));
      const next = run('write', 'fen', '--yes');
      expect(next.out).not.toContain('changed by hand');
      expect(readFileSync(play, 'utf8')).toContain('flush: 20000');
    });
  });
});
