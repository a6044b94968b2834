import Ajv2020 from 'ajv/dist/2020.js';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeCard } from '../../support/demo-card.ts';

interface Checked {
  readonly profiles: readonly {
    readonly room?: readonly { readonly parts: readonly string[]; readonly peak: number }[];
  }[];
}

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};

describe('check --card', () => {
  it('says what a write would take of the card, and nothing once it is written', () => {
    inFolder((folder) => {
      const card = join(folder, 'card');
      makeCard(card);
      const run = (...args: readonly string[]): ReturnType<typeof thumbwright> =>
        thumbwright([...args, '--card', 'card'], folder, secrets);
      const room = (): NonNullable<Checked['profiles'][number]['room']> => {
        const { out } = run('check', 'fen', '--json');
        const schema = JSON.parse(readFileSync('schema/check-output.schema.json', 'utf8')) as object;
        const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
        const validate = ajv.compile(schema);
        const document = JSON.parse(out) as Checked;
        validate(document);
        expect(validate.errors ?? []).toEqual([]);
        return document.profiles.flatMap((profile) => profile.room ?? []);
      };
      const before = room();
      expect(before.flatMap(({ parts }) => parts).sort()).toEqual(['games', 'settings']);
      expect(before.every(({ peak }) => peak > 0)).toBe(true);
      expect(run('check', 'fen').out).toMatch(
        /Room on (?:games and settings|settings and games): a write takes up to \d+ clusters of \d+ bytes; \d+ are free\./,
      );
      const written = run('write', 'fen', '--yes', '--saves-may-move');
      expect(written.status, written.said).toBe(0);
      expect(room()).toEqual([]);
    });
  });

  it('tells of a file on the card that differs from ours in case alone', () => {
    inFolder((folder) => {
      const card = join(folder, 'card');
      makeCard(card);
      writeFileSync(join(card, 'settings/hall/Keys.CONF'), '');
      const { out } = thumbwright(['check', 'fen', '--card', 'card'], folder);
      // ours stands there too, so the other one is nobody's.
      expect(out).not.toContain('case-only-twins');
    });
  });
});
