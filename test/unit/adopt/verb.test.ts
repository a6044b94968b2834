import { onWrittenTarn } from '../../support/adopt/written-tarn.ts';
import Ajv2020 from 'ajv/dist/2020.js';
import { cpSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validate = ajv.compile(JSON.parse(readFileSync('schema/adopt-output.schema.json', 'utf8')) as object);

function valid(text: string): void {
  const good = validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
  expect(good).toBe(true);
}

/** The demo with a card of Mere as it was compiled, and one line changed on it. */
function changed(folder: string, find: RegExp, put: string): string {
  expect(thumbwright(['build', 'mere'], folder).status).toBe(0);
  cpSync(join(folder, 'out', 'mere'), join(folder, 'card'), { recursive: true });
  const play = join(folder, 'card', 'settings', 'hall', 'play.conf');
  const text = readFileSync(play, 'utf8');
  expect(text).toMatch(find);
  writeFileSync(play, text.replace(find, put));
  return join(folder, 'profiles', 'mere.yaml');
}

interface Said {
  readonly setting: string;
  readonly after?: string;
  readonly why?: string;
}

describe('thumbwright adopt', () => {
  it('shows, asks, writes, and has nothing more to adopt', () => {
    inFolder((folder) => {
      const profile = changed(folder, /^flush: .*$/m, 'flush: 20000');
      const before = readFileSync(profile, 'utf8');
      const dry = thumbwright(['adopt', 'mere', '--card', 'card', '--dry-run'], folder);
      expect([dry.status, dry.out]).toEqual([
        0,
        expect.stringContaining('saves.write-save-every: (not there) -> 20 s'),
      ]);
      const json = thumbwright(['adopt', 'mere', '--card', 'card', '--dry-run', '--json'], folder);
      valid(json.out);
      expect(JSON.parse(json.out)).toMatchObject({
        wrote: [],
        adoption: { changes: [{ setting: 'saves.write-save-every', after: '20 s' }], remaining: [] },
      });
      // Nobody is at the terminal of a test.
      const unasked = thumbwright(['adopt', 'mere', '--card', 'card'], folder);
      expect([unasked.status, unasked.said]).toEqual([1, expect.stringContaining('Nothing was written')]);
      expect(readFileSync(profile, 'utf8')).toBe(before);
      const done = thumbwright(['adopt', 'mere', '--card', 'card', '--yes'], folder);
      expect([done.status, done.out]).toEqual([0, expect.stringContaining('wrote profiles/mere.yaml')]);
      const after = readFileSync(profile, 'utf8');
      expect(after).toContain('saves:\n  write-save-every: 20 s\n');
      // What was there is there still, line by line.
      expect(before.split('\n').filter((line) => !after.includes(line))).toEqual([]);
      const again = thumbwright(['adopt', 'mere', '--card', 'card', '--yes', '--json'], folder);
      valid(again.out);
      expect(JSON.parse(again.out)).toMatchObject({ wrote: [], adoption: { changes: [], remaining: [] } });
    });
  });

  it('shows no password that stands on a card, and keeps it for its owner alone', () => {
    inFolder((folder) => {
      expect(thumbwright(['build', 'fen'], folder).status).toBe(0);
      cpSync(join(folder, 'out', 'fen'), join(folder, 'card'), { recursive: true });
      for (const copy of ['hall', 'annex']) {
        const play = join(folder, 'card', 'settings', copy, 'play.conf');
        writeFileSync(play, readFileSync(play, 'utf8').replace(/^ribbons-word: .*$/m, 'ribbons-word: rain on 7 roofs'));
      }
      const { status, out, said } = thumbwright(['adopt', 'fen', '--card', 'card', '--yes'], folder);
      expect([status, out.includes('secret:shelf-password')]).toEqual([0, true]);
      const json = thumbwright(['adopt', 'fen', '--card', 'card', '--json', '--dry-run'], folder);
      valid(json.out);
      expect(`${out}${said}${json.out}${json.said}`).not.toContain('roofs');
      const secrets = join(folder, '.thumbwright', 'private', 'secrets.yaml');
      expect(readFileSync(secrets, 'utf8')).toContain('shelf-password: rain on 7 roofs\n');
      expect(statSync(secrets).mode & 0o777).toBe(0o600);
      expect(readFileSync(join(folder, '.thumbwright', 'private', '.gitignore'), 'utf8')).toContain('*');
    });
  });

  it('makes a profile of a card as it stands, which compiles to no change', () => {
    inFolder((folder) => {
      changed(folder, /^flush: .*$/m, 'flush: 20000');
      const made = thumbwright(['adopt', '--new', 'found', '--like', 'mere', '--card', 'card', '--yes'], folder);
      expect([made.status, made.out]).toEqual([0, expect.stringContaining('wrote profiles/found.yaml')]);
      expect(made.out).not.toContain('would still change');
      const text = readFileSync(join(folder, 'profiles', 'found.yaml'), 'utf8');
      expect(text).toContain('write-save-every: 20 s');
      expect(text).not.toContain('extends');
      const built = thumbwright(['build', 'found', '--card', 'card', '--json'], folder);
      const { profiles } = JSON.parse(built.out) as {
        profiles: { files: { path: string; keys: number; changed: number }[] }[];
      };
      const files = profiles.flatMap((profile) => profile.files);
      expect(files.reduce((sum, { keys }) => sum + keys, 0)).toBeGreaterThan(60);
      expect(files.filter((file) => file.changed > 0)).toEqual([]);
      const twice = thumbwright(['adopt', '--new', 'found', '--like', 'mere', '--card', 'card', '--yes'], folder);
      expect([twice.status, twice.said]).toEqual([1, expect.stringContaining('is there already')]);
    });
  });

  it('tells, by what was written, a hand change from a changed profile, an update and a key taken out', () => {
    inFolder((folder) => {
      changed(folder, /^flush: .*$/m, 'flush: 10000');
      const card = join(folder, 'card', 'settings', 'hall');
      const stock = join(folder, 'profiles', 'dialects', 'harrow', 'stock', '2.1.4');
      cpSync(join(stock, 'about.txt'), join(card, 'about.txt'));
      const wrote = thumbwright(['write', 'mere', '--card', 'card', '--yes'], folder);
      expect([wrote.status, wrote.said]).toEqual([0, expect.any(String)]);
      const adoption = (): unknown => {
        const { out } = thumbwright(['adopt', 'mere', '--card', 'card', '--dry-run', '--json'], folder);
        valid(out);
        const { changes, left } = (JSON.parse(out) as { adoption: { changes: Said[]; left: Said[] } }).adoption;
        return {
          changes: changes.map(({ setting, after }) => [setting, after]),
          left: left.map(({ setting, why }) => [setting, why]),
        };
      };
      const house = join(folder, 'profiles', 'house.yaml');
      writeFileSync(house, readFileSync(house, 'utf8').replace('fast-forward-limit: 4 x', 'fast-forward-limit: 3 x'));
      expect(adoption()).toEqual({ changes: [], left: [] });
      const play = join(card, 'play.conf');
      const written = readFileSync(play, 'utf8');
      writeFileSync(play, written.replace(/^flush: .*$/m, 'flush: 20000'));
      expect(adoption()).toEqual({ changes: [['saves.write-save-every', '20 s']], left: [] });
      writeFileSync(play, written.replace(/^flush: .*\n/m, ''));
      expect(adoption()).toEqual({ changes: [['saves.write-save-every', 'null']], left: [] });
      // All keys of a file are back at stock: an update, by issue 5's definition of a reset.
      cpSync(join(stock, 'keys.conf'), join(card, 'keys.conf'));
      writeFileSync(play, written);
      const { changes, left } = adoption() as { changes: unknown[]; left: [string, string][] };
      expect(changes).toEqual([]);
      expect(left.length).toBeGreaterThan(5);
      expect(new Set(left.map(([, why]) => why))).toEqual(new Set(['an update put it back to stock']));
    });
  });

  it('tells another hold control where it stands in every hotkey, and has no key of its own in the record', () => {
    onWrittenTarn((folder, run) => {
      const weave = join(folder, 'card', 'settings', 'withy', 'weave.toml');
      const written = readFileSync(weave, 'utf8');
      writeFileSync(weave, written.replaceAll('"b16&', '"b8&'));
      const { out } = run('adopt', 'tarn', '--card', 'card', '--dry-run', '--json');
      valid(out);
      const { changes, left } = (JSON.parse(out) as { adoption: { changes: Said[]; left: Said[] } }).adoption;
      expect({ changes: changes.map(({ setting, after }) => [setting, after]), left }).toEqual({
        changes: [['hotkeys.hold', 'select']],
        left: [],
      });
    });
  });

  it('says what is wrong with its arguments', () => {
    inFolder((folder) => {
      const status = (...args: string[]): number | null => thumbwright(['adopt', ...args], folder).status;
      expect(status()).toBe(2);
      expect(status('mere')).toBe(2);
      expect(status('mere', '--card', 'nowhere')).toBe(2);
      expect(status('mere', '--card', '.', '--only', 'saves.nothing')).toBe(2);
      expect(status('--new', 'found', '--card', '.')).toBe(2);
      expect(existsSync(join(folder, 'profiles', 'found.yaml'))).toBe(false);
    });
  });
});
