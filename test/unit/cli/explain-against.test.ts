import Ajv2020 from 'ajv/dist/2020.js';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validate = ajv.compile(JSON.parse(readFileSync('schema/explain-output.schema.json', 'utf8')) as object);

function git(folder: string, ...args: readonly string[]): void {
  const identity = ['-c', 'user.name=Reader', '-c', 'user.email=reader@example.org', '-c', 'commit.gpgsign=false'];
  execFileSync('git', [...identity, ...args], { cwd: folder, stdio: 'ignore' });
}

describe('explain --against', () => {
  it('prints the document that the schema describes, and names secrets without their texts', () => {
    inFolder((folder) => {
      for (const args of [
        ['tarn', '--against', 'mere'],
        ['tarn', 'network.networks', '--against', 'mere'],
        ['fen#harrow-hall', 'cores.choice', '--against', 'fen#harrow-annex'],
        ['fen#harrow-hall', '--against', 'fen#sill'],
        ['fen', 'saves.state-on-exit', '--against', 'fen'],
      ]) {
        const ran = thumbwright(['explain', ...args, '--json'], folder, {
          THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'hush-hush',
        });
        expect(ran.status).toBe(0);
        validate(JSON.parse(ran.out));
        expect(validate.errors ?? []).toEqual([]);
        expect(ran.out).not.toContain('hush-hush');
      }
    });
  });

  it('fits 80 columns', () => {
    inFolder((folder) => {
      for (const args of [
        ['tarn', '--against', 'mere'],
        ['tarn', 'network.networks', '--against', 'mere'],
        ['tarn#withy', '--against', 'tarn#harrow-hall'],
        ['fen', 'hotkeys.bind.fast-forward', '--against', 'mere'],
      ])
        for (const line of thumbwright(['explain', ...args], folder, { COLUMNS: '80' }).out.split('\n'))
          expect(line.length, line).toBeLessThanOrEqual(80);
    });
  });

  it('holds a profile against itself at a git revision: the one line says another thing', () => {
    inFolder((folder) => {
      git(folder, 'init', '-q');
      git(folder, 'add', '-A');
      git(folder, 'commit', '-q', '-m', 'as it was');
      const house = join(folder, 'profiles', 'house.yaml');
      const text = readFileSync(house, 'utf8');
      writeFileSync(house, `# A line more.\n${text.replace('state-on-exit: true', 'state-on-exit: false')}`);
      const ran = thumbwright(['explain', 'tarn@HEAD#withy', '--against', 'tarn#withy'], folder);
      expect(ran.out.replaceAll(/\s+/g, ' ')).toContain(
        'profiles/house.yaml:20 is true for tarn@HEAD#withy, and false for tarn#withy.',
      );
      expect(ran.out).toContain('1 setting told');
    });
  });

  it('says what it wants, and what has mistakes', () => {
    inFolder((folder) => {
      const says = (...args: readonly string[]): string => {
        const ran = thumbwright(['explain', ...args], folder);
        expect(ran.status).toBe(2);
        expect(ran.out).toBe('');
        return ran.said;
      };
      expect(says('--against', 'mere')).toContain('WHAT');
      expect(says('tarn', 'saves.state-on-exot', '--against', 'mere')).toContain('saves.state-on-exit');
      expect(says('tarn', 'north', '--against', 'mere')).toContain('thumbwright diff tarn mere --only controls');
      expect(says('tarn', 'saves.state-on-exit', 'sill', '--against', 'mere')).toContain('#');
      expect(says('tarn#harrow-hall', '--against', 'mere')).toContain('a frontend is held against a frontend');
      expect(says('tarn#harrow-hal', '--against', 'mere#sill')).toContain('Did you mean harrow-hall?');
      expect(says('tarn', '--against', 'mere', '--card', '.')).toContain('card');
      expect(says('tarn', '--against', 'mera')).toContain('Did you mean mere?');
      const profile = join(folder, 'profiles', 'mere.yaml');
      writeFileSync(profile, readFileSync(profile, 'utf8').replace('body: folding', 'bodi: folding'));
      const bad = thumbwright(['explain', 'tarn', '--against', 'mere'], folder);
      expect(bad.status).toBe(1);
      expect(bad.said).toContain('mere has mistakes');
      expect(bad.said).toContain('profiles/mere.yaml:11');
    });
  });
});
