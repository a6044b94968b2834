import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import type { Ran } from '../../support/cli.ts';
import { makeCard, updateCard } from '../../support/demo-card.ts';

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};

function written(work: (folder: string, card: string, write: (...args: readonly string[]) => Ran) => void): void {
  inFolder((folder) => {
    const card = join(folder, 'card');
    makeCard(card);
    const write = (...args: readonly string[]): Ran =>
      thumbwright(['write', 'fen', ...args, '--card', 'card'], folder, secrets);
    const first = write('--yes', '--saves-may-move');
    expect(first.status, first.said).toBe(0);
    expect(first.out).toContain('harrow writes its files again when it ends: power the device off first');
    work(folder, card, write);
  });
}

describe('write --html', () => {
  it('is one page of what an update did, by file, without a script, a request or a secret', () => {
    written((folder, card, write) => {
      updateCard(card);
      const ran = write('--dry-run', '--accept-version', '--html', 'report.html');
      expect(ran.status, ran.said).toBe(0);
      const page = readFileSync(join(folder, 'report.html'), 'utf8');
      expect(page).toContain('What changed on the card of fen');
      expect(page).toContain('40 keys that were never yours');
      expect(page).toContain('settings:sedge.ini');
      expect(page).not.toMatch(/<script|https?:/);
      for (const secret of Object.values(secrets)) expect(page).not.toContain(secret);
    });
  });
});

describe('a frontend that writes its files when it ends', () => {
  it('is told of when it has undone a write, and only then', () => {
    inFolder((folder) => {
      const card = join(folder, 'card');
      makeCard(card);
      const play = join(card, 'settings/hall/play.conf');
      const before = readFileSync(play, 'utf8');
      const write = (...args: readonly string[]): Ran =>
        thumbwright(['write', 'fen', ...args, '--card', 'card'], folder, secrets);
      expect(write('--yes', '--saves-may-move').status).toBe(0);
      const byUs = readFileSync(play, 'utf8');
      const others = /^wash-passes-most: .*$/m;
      expect(before).toMatch(others);
      // A hand that changed one key of ours and one of others is no such thing.
      writeFileSync(play, byUs.replace('flush: 10000', 'flush: 0').replace(others, 'wash-passes-most: 9'));
      expect(write('--dry-run').out).not.toContain('was running during the last write');
      writeFileSync(play, before.replace(others, 'wash-passes-most: 9'));
      const ran = write('--dry-run');
      expect(ran.out).toContain(
        'harrow was running during the last write, it seems, and wrote settings:hall/play.conf again',
      );
      expect(ran.out).toContain('not to sleep');
    });
  });
});
