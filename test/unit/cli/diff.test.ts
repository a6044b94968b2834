import Ajv2020 from 'ajv/dist/2020.js';
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeCard, updateCard } from '../../support/demo-card.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validate = ajv.compile(JSON.parse(readFileSync('schema/diff-output.schema.json', 'utf8')) as object);

function git(folder: string, ...args: readonly string[]): void {
  const identity = ['-c', 'user.name=Reader', '-c', 'user.email=reader@example.org', '-c', 'commit.gpgsign=false'];
  execFileSync('git', [...identity, ...args], { cwd: folder, stdio: 'ignore' });
}

function change(folder: string, file: string, find: string, put: string): void {
  const path = join(folder, 'profiles', file);
  const before = readFileSync(path, 'utf8');
  expect(before).toContain(find);
  writeFileSync(path, before.replace(find, put));
}

describe('diff', () => {
  it('prints the document that the schema describes, and names secrets without their texts', () => {
    inFolder((folder) => {
      for (const args of [
        ['tarn', 'mere'],
        ['fen', 'tarn'],
        ['fen#harrow-hall', 'fen#harrow-annex'],
        ['fen', 'fen'],
      ]) {
        const ran = thumbwright(['diff', ...args, '--json'], folder, {
          THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'hush-hush',
        });
        expect(ran.status).toBe(0);
        validate(JSON.parse(ran.out));
        expect(validate.errors ?? []).toEqual([]);
        expect(ran.out).not.toContain('hush-hush');
      }
      change(folder, 'house.yaml', 'state-on-exit', 'state-on-exot');
      const bad = thumbwright(['diff', 'tarn', 'mere', '--json'], folder);
      expect(bad.status).toBe(1);
      expect(bad.said).toContain('tarn has mistakes');
      validate(JSON.parse(bad.out));
      expect(validate.errors ?? []).toEqual([]);
      expect(bad.out).toContain('unknown-key');
    });
  });

  it('fits 80 columns, and 60 and 40', () => {
    inFolder((folder) => {
      for (const width of [80, 60, 40])
        for (const args of [
          ['tarn', 'mere'],
          ['fen', 'tarn'],
          ['mere', 'fen'],
          ['fen#harrow-hall', 'tarn#withy'],
        ])
          for (const line of thumbwright(['diff', ...args], folder, { COLUMNS: String(width) }).out.split('\n'))
            expect(line.length, line).toBeLessThanOrEqual(width);
    });
  });

  it('draws the controls of a device that is held against itself', () => {
    inFolder((folder) => {
      const ran = thumbwright(['diff', 'fen#harrow-hall', 'fen#harrow-annex', '--html', 'page.html'], folder);
      expect(ran.status).toBe(0);
      expect(readFileSync(join(folder, 'page.html'), 'utf8').split('>Fn<')).toHaveLength(3);
    });
  });

  it('fails on a difference only when asked to', () => {
    inFolder((folder) => {
      expect(thumbwright(['diff', 'tarn', 'mere'], folder).status).toBe(0);
      expect(thumbwright(['diff', 'tarn', 'mere', '--fail-on-difference'], folder).status).toBe(1);
      const same = thumbwright(['diff', 'tarn', 'tarn', '--fail-on-difference'], folder);
      expect([same.status, same.out.includes('No difference.')]).toEqual([0, true]);
    });
  });

  it('prints Markdown whose tables have as many cells in every row', () => {
    inFolder((folder) => {
      const { out } = thumbwright(['diff', 'tarn', 'mere', '--markdown'], folder);
      const rows = out.split('\n').filter((line) => line.startsWith('|'));
      expect(rows.length).toBeGreaterThan(40);
      for (const row of rows) expect(row.split(/(?<!\\)\|/).length, row).toBe(5);
      expect(out).toContain('## For the hands');
    });
  });

  it('compares a profile with itself at a git revision, house and all', () => {
    inFolder((folder) => {
      git(folder, 'init', '-q');
      git(folder, 'add', '-A');
      git(folder, 'commit', '-q', '-m', 'as it was');
      change(folder, 'house.yaml', 'save-state: dpad-up', 'save-state: dpad-left');
      expect(thumbwright(['diff', 'fen@HEAD', 'fen@HEAD', '--fail-on-difference'], folder).status).toBe(0);
      const { out, status } = thumbwright(['diff', 'fen@HEAD', 'fen', '--only', 'hands'], folder);
      expect(status).toBe(0);
      expect(out).toMatch(/save-state +hold with dpad-up +hold with dpad-left/);
      git(folder, 'commit', '-q', '-a', '-m', 'as it is');
      expect(thumbwright(['diff', 'fen@HEAD~1', 'fen', '--json'], folder).out).toContain('"hotkeys.bind.save-state"');
      for (const [wrong, says] of [
        ['fen@nowhere', 'knows no revision'],
        ['fen@--all', 'is no revision'],
        ['fern@HEAD', 'Did you mean fen'],
        ['fen@HEAD#harrow-hal', 'instance is held against an instance'],
      ] as const) {
        const ran = thumbwright(['diff', wrong, 'fen'], folder);
        expect(ran.status, wrong).toBe(2);
        expect(ran.said).toContain(says);
      }
    });
  });

  it('holds a profile against its card: as it came, as it was written, and after an update', () => {
    inFolder((folder) => {
      const card = join(folder, 'card');
      mkdirSync(card);
      makeCard(card);
      const secrets = {
        THUMBWRIGHT_SECRET_READING_ROOM: 'hush-hush-hush',
        THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'hush-reader',
        THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'hush-word',
      };
      const diff = (...args: readonly string[]): ReturnType<typeof thumbwright> =>
        thumbwright(['diff', 'fen', '--card', 'card', ...args], folder, secrets);
      const before = diff();
      expect(before.out).toMatch(/exit-game +hold with start \(Go\) +hold with select \(Sel\)/);
      expect(before.out).toContain('settings:hall/');
      for (const line of before.out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
      validate(JSON.parse(diff('--json').out));
      expect(validate.errors ?? []).toEqual([]);
      expect(diff('--all').out.length).toBeGreaterThan(before.out.length);

      const wrote = thumbwright(
        ['write', 'fen', '--card', 'card', '--yes', '--new-card', '--saves-may-move'],
        folder,
        secrets,
      );
      expect(wrote.status, wrote.said).toBe(0);
      const same = diff('--fail-on-difference');
      expect([same.status, same.out.includes('No difference.')], same.out).toEqual([0, true]);
      // A file for one system is read over what the profile says of all.
      const burdock = join(card, 'settings', 'hall', 'systems', 'burdock.conf');
      const was = readFileSync(burdock, 'utf8');
      writeFileSync(burdock, `${was.trimEnd()}\nwhole-steps: on\n`);
      const hiding = diff('--json').out;
      expect(hiding).toContain('"differences": 1,');
      expect(hiding).toMatch(/"setting": "display.whole-number-scaling",\s+"scope": \{\s+"system": "burdock"/);
      writeFileSync(burdock, was);
      // Nobody knows here what the passwords are: they are not told to differ.
      const blind = thumbwright(['diff', 'fen', '--card', 'card', '--fail-on-difference'], folder);
      expect(blind.status).toBe(0);
      expect(blind.out.replaceAll('\n', ' ')).toContain(
        'network.networks is not compared: the text of secret:reading-room is not known here.',
      );
      expect(blind.out).toContain('No difference in what could be compared.');

      writeFileSync(
        join(card, 'settings', 'hall', 'play.conf'),
        readFileSync(join(card, 'settings', 'hall', 'play.conf'), 'utf8').replace('hush-word', 'hush-other'),
      );
      updateCard(card);
      const after = diff('--only', 'settings', '--only', 'facts');
      expect(after.out).toMatch(/os, version +3\.2\.1 +3\.3\.0/);
      expect(after.out).toMatch(/password +secret:shelf-password +another text than/);
      for (const ran of [before, same, blind, after, diff('--json'), diff('--markdown'), diff('--all')])
        expect(ran.out + ran.said).not.toMatch(/hush-/);
      const part = thumbwright(['diff', 'fen', '--card', 'games=card/games'], folder, secrets);
      expect(part.out.replaceAll('\n', ' ')).toContain(
        'harrow-hall is not compared: it is on the part settings, which was not given.',
      );
    });
  });

  it('says what is wrong with what was asked', () => {
    inFolder((folder) => {
      const says = (...args: readonly string[]): string => {
        const ran = thumbwright(['diff', ...args], folder);
        expect(ran.status, args.join(' ')).toBe(2);
        expect(ran.out).toBe('');
        return ran.said;
      };
      expect(says('tarn')).toContain('diff wants two, or one and a card');
      expect(says()).toContain("missing required argument 'A'");
      expect(says('tarn', 'mere', '--card', '.')).toContain('a card is held against one profile');
      expect(says('tarn', 'mere', '--all')).toContain('--all goes with --card');
      expect(says('tarn', '--card', 'nowhere')).toContain('nowhere is not a folder');
      expect(says('fen', '--card', 'gamez=.')).toContain('fen has no part called gamez');
      expect(says('fen', '--card', '.')).toContain('no part of fen is below the folder');
      expect(says('fen#harrow-hal', '--card', '.')).toContain('Did you mean harrow-hall');
      expect(says('tarn', 'mere', 'fen')).toContain('too many arguments');
      expect(says('tarn', 'meer')).toContain('Did you mean mere');
      expect(says('tarn#withy', 'mere')).toContain('an instance is held against an instance');
      expect(says('tarn#withi', 'mere#sill')).toContain('Did you mean withy');
      expect(says('tarn@HEAD', 'tarn')).toContain('in no git repository');
      expect(says('tarn', 'mere', '--json', '--markdown')).toContain('Give one of them');
      expect(says('tarn', 'mere', '--only', 'feet')).toContain('hands, hotkeys');
    });
  });
});
