import { onWrittenTarn } from '../../support/adopt/written-tarn.ts';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { adoptCard, keep, writeCard } from '../../support/adopt/adopt-world.ts';
import { demoFiles } from '../../support/demo.ts';

const lists = ['games.favourites', 'games.hidden', 'games.lists', 'menus.hidden-systems'];

/** A mark beside the name of a game. */
function marked(text: string, title: string, mark: string): string {
  const at = `"${title}", "loved": false`;
  expect(text).toContain(at);
  return text.replace(at, `${at}, ${mark}`);
}

describe('lists of games on a card', () => {
  it('are adopted, new ones with their names, so that compiling changes nothing', () => {
    const files = demoFiles();
    writeCard(files, 'tarn', true);
    const shelf = hostPath('/card/games/sill/shelf.json');
    const read = files.read(shelf);
    let text = read.kind === 'bytes' ? decodeBytes(read.bytes) : '';
    text = marked(text, 'The Tin Comet', '"put-away": true');
    text = text.replace('"Test Disc", "loved": false', '"Test Disc", "loved": true, "bundles": { "wet week": "kept" }');
    files.write(shelf, encodeText(text));
    const adopted = adoptCard(files, 'tarn', { all: true, only: new Set(lists) });
    const { told } = adopted;
    expect(told.changes.map(({ setting, item, after }) => [setting, item, after])).toEqual([
      ['games.favourites', undefined, expect.stringContaining('lathe/test-disc.sheet')],
      ['games.lists', 'wet week', '[lathe/test-disc.sheet]'],
      ['games.hidden', undefined, expect.stringContaining('orrery/tin-comet.brass')],
    ]);
    expect([told.left, told.remaining, told.unread]).toEqual([[], [], []]);
    keep(files, adopted);
    expect(writeCard(files, 'tarn')).toEqual([]);
    expect(adoptCard(files, 'tarn', { all: true, only: new Set(lists) }).told.files).toEqual([]);
    // What changes in play is not taken unasked.
    expect(adoptCard(files, 'tarn').told.files).toEqual([]);
  });

  it('are adopted where a hand marked a game since they were written, and keep what the profile changed since', () => {
    onWrittenTarn((folder, run) => {
      const adoption = (): unknown => {
        const { out } = run('adopt', 'tarn', '--card', 'card', '--dry-run', '--json');
        const { changes, left } = (
          JSON.parse(out) as { adoption: { changes: { setting: string; after: string }[]; left: unknown[] } }
        ).adoption;
        return { changes: changes.map(({ setting, after }) => [setting, after]), left };
      };
      const profile = join(folder, 'profiles', 'tarn.yaml');
      const yaml = readFileSync(profile, 'utf8');
      const hidden = (games: string): void => {
        writeFileSync(profile, yaml.replace(/^ {2}hidden: .*$/m, `  hidden: [${games}]`));
      };
      expect(adoption()).toEqual({ changes: [], left: [] });
      hidden('lathe/test-disc.sheet, burdock/reed-song.leaf');
      expect(adoption()).toEqual({ changes: [], left: [] });
      const shelf = join(folder, 'card/games/sill/shelf.json');
      const written = readFileSync(shelf, 'utf8');
      writeFileSync(shelf, marked(written, 'The Tin Comet', '"put-away": true'));
      expect(adoption()).toEqual({
        changes: [['games.hidden', '[lathe/test-disc.sheet, burdock/reed-song.leaf, orrery/tin-comet.brass]']],
        left: [],
      });
      // Taken out of the profile, and not written yet: that is no hand's doing.
      hidden('');
      expect(adoption()).toEqual({ changes: [['games.hidden', '[orrery/tin-comet.brass]']], left: [] });
      writeFileSync(shelf, written.replace(/, "put-away": true/, ''));
      expect(written).toContain('"put-away": true');
      writeFileSync(profile, yaml);
      expect(adoption()).toEqual({ changes: [['games.hidden', '[]']], left: [] });
    });
  });
});
