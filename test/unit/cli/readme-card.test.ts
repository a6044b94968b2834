import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeCard, updateCard } from '../../support/demo-card.ts';

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'a quiet place',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'a word for it',
};

it('shows in the README what the update of the demo did (UPDATE_CASES=1 brings it up to date)', () => {
  inFolder((folder) => {
    const card = join(folder, 'card');
    makeCard(card);
    const write = (...more: readonly string[]): string =>
      thumbwright(['write', 'fen', '--card', 'card', '--yes', ...more], folder, secrets).out;
    write('--saves-may-move');
    updateCard(card);
    const told = write('--accept-version');
    const news = /^Since the last write[^]*?\n\n/.exec(told)?.[0].trimEnd() ?? '';
    expect(news).toContain('40 were never yours');
    const readme = readFileSync('README.md', 'utf8');
    const shown = /```text\n(Since the last write[^]*?)\n```/.exec(readme)?.[1] ?? '';
    if (process.env['UPDATE_CASES'] === '1')
      writeFileSync(
        'README.md',
        readme.replace(shown, () => news),
      );
    else expect(shown).toBe(news);
  });
});
