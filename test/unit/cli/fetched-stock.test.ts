import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
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

const yes = ['--yes', '--saves-may-move'] as const;

/** A version that no dialect has stock of, with other values than the one before: what an update leaves. */
function updated(): string {
  return readFileSync('profiles/dialects/harrow/stock/2.1.4/play.conf', 'utf8')
    .replace(/^flush: .*$/m, 'flush: 7000')
    .replace(/^ear-lead: .*$/m, 'ear-lead: 90')
    .replace(/^ribbons-word: .*$/m, 'ribbons-word: zz-of-another');
}

/** Fen, written, then with an update of harrow-annex on it; and, where asked, a run of fetch with these texts. */
function afterUpdate(
  work: (card: string, write: () => Ran, written: string) => void,
  fetched: Readonly<Record<string, string>>,
): void {
  inFolder((folder) => {
    const card = join(folder, 'card');
    makeCard(card);
    const run = (...args: readonly string[]): Ran => thumbwright([...args, '--card', 'card'], folder, secrets);
    expect(run('write', 'fen', ...yes).status).toBe(0);
    const play = join(card, 'settings/annex/play.conf');
    const written = readFileSync(play, 'utf8');
    writeFileSync(play, updated());
    writeFileSync(join(card, 'settings/annex/about.txt'), 'Harrow 2.1.5\n');
    const at = join(folder, '.thumbwright/private/fetched/fen/1');
    for (const [path, text] of Object.entries(fetched)) {
      mkdirSync(join(at, path, '..'), { recursive: true });
      writeFileSync(join(at, path), text);
    }
    work(card, () => run('write', 'fen', '--yes', '--accept-version'), written);
  });
}

const run = {
  'about.txt': 'device: fen\nfolder: settings\t/opt/sedge\n',
  'DONE.txt': 'done\n',
  'files/settings/annex/about.txt': 'Harrow 2.1.5\n',
  'files/settings/annex/play.conf': updated(),
};

describe('what fetch brought', () => {
  it('is stock of the version that it has: what an update put back to it is written again', () => {
    afterUpdate((card, write, written) => {
      const ran = write();
      expect(ran.status, ran.said).toBe(0);
      expect(ran.out).toContain('reset');
      const play = readFileSync(join(card, 'settings/annex/play.conf'), 'utf8');
      for (const key of ['flush', 'ear-lead', 'ribbons-word'])
        expect(new RegExp(`^${key}: .*$`, 'm').exec(play)?.[0]).toBe(
          new RegExp(`^${key}: .*$`, 'm').exec(written)?.[0],
        );
    }, run);
  });

  it('is missed without it: nobody knows the stock of that version, and the keys are kept as hand changes', () => {
    afterUpdate((card, write) => {
      const ran = write();
      expect(ran.out).toContain('changed by hand');
      expect(readFileSync(join(card, 'settings/annex/play.conf'), 'utf8')).toContain('flush: 7000');
    }, {});
  });

  it.each([
    ['of another version', { ...run, 'files/settings/annex/about.txt': 'Harrow 2.1.4\n' }],
    ['cut off', { ...run, 'DONE.txt': undefined }],
    ['brought after a write, with what we wrote', { ...run, 'files/settings/annex/play.conf': 'flush: 10000\n' }],
  ])('is no stock when it is %s', (_why, files) => {
    const there = Object.fromEntries(
      Object.entries(files).filter((pair): pair is [string, string] => pair[1] !== undefined),
    );
    afterUpdate((card, write) => {
      expect(write().out).toContain('changed by hand');
      expect(readFileSync(join(card, 'settings/annex/play.conf'), 'utf8')).toContain('flush: 7000');
    }, there);
  });

  it('leaves what somebody set after the update', () => {
    afterUpdate((card, write) => {
      const play = join(card, 'settings/annex/play.conf');
      writeFileSync(play, readFileSync(play, 'utf8').replace('flush: 7000', 'flush: 30000'));
      expect(write().out).toContain('changed by hand');
      expect(readFileSync(play, 'utf8')).toContain('flush: 30000');
    }, run);
  });

  it('puts no password of the device into what is committed', () => {
    inFolder((folder) => {
      const card = join(folder, 'card');
      makeCard(card);
      const at = join(folder, '.thumbwright/private/fetched/fen/1');
      cpSync(join(card, 'settings'), join(at, 'files/settings'), { recursive: true });
      writeFileSync(join(at, 'about.txt'), run['about.txt']);
      writeFileSync(join(at, 'DONE.txt'), 'done\n');
      for (const file of [join(card, 'settings/annex/play.conf'), join(at, 'files/settings/annex/play.conf')])
        writeFileSync(file, updated());
      for (const file of [join(card, 'settings/annex/about.txt'), join(at, 'files/settings/annex/about.txt')])
        writeFileSync(file, 'Harrow 2.1.5\n');
      const ran = thumbwright(['write', 'fen', ...yes, '--accept-version', '--card', 'card'], folder, secrets);
      expect(ran.status, ran.said).toBe(0);
      const cards = join(folder, '.thumbwright/cards');
      const record = readFileSync(join(cards, readdirSync(cards)[0] ?? ''), 'utf8');
      expect(record).toContain('settings:annex/play.conf');
      expect(record).not.toContain('zz-of-another');
    });
  });
});
