import Ajv2020 from 'ajv/dist/2020.js';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validate = ajv.compile(JSON.parse(readFileSync('schema/refit-output.schema.json', 'utf8')) as object);

function valid(text: string): void {
  const good = validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
  expect(good).toBe(true);
}

const tarnToMere = ['refit', 'tarn', '--to', 'mere'];

/** Replaces a part of a demo file, which must be there. */
function change(folder: string, name: string, find: string | RegExp, put: string): void {
  const path = join(folder, 'profiles', name);
  const text = readFileSync(path, 'utf8');
  expect(text).toMatch(find);
  writeFileSync(path, text.replace(find, put));
}

describe('thumbwright refit', () => {
  it('proposes, shows, asks, writes with comments kept, and then has nothing more to write', () => {
    inFolder((folder) => {
      const profile = join(folder, 'profiles', 'mere.yaml');
      const before = readFileSync(profile, 'utf8');
      const house = readFileSync(join(folder, 'profiles', 'house.yaml'), 'utf8');
      const shown = thumbwright(tarnToMere, folder);
      expect([shown.status, shown.said]).toEqual([0, '']);
      expect(shown.out).toMatch(/rewind +trigger-left \(L2\) -> /);
      expect(shown.out).toContain('proved best');
      const dry = thumbwright([...tarnToMere, '--take', '1', '--dry-run'], folder);
      expect([dry.status, dry.out]).toEqual([
        0,
        expect.stringMatching(/mere\.yaml:\d+: hotkeys\.bind\.rewind: \(not there\) -> /),
      ]);
      // Nobody is at the terminal of a test.
      const unasked = thumbwright([...tarnToMere, '--take', '1'], folder);
      expect([unasked.status, unasked.said]).toEqual([1, expect.stringContaining('Nothing was written')]);
      expect(readFileSync(profile, 'utf8')).toBe(before);
      const done = thumbwright([...tarnToMere, '--take', '1', '--yes'], folder);
      expect([done.status, done.out]).toEqual([0, expect.stringContaining('wrote profiles/mere.yaml')]);
      const after = readFileSync(profile, 'utf8');
      // What was there is there still, line by line.
      expect(before.split('\n').filter((line) => !after.includes(line))).toEqual([]);
      expect(readFileSync(join(folder, 'profiles', 'house.yaml'), 'utf8')).toBe(house);
      expect(thumbwright(['check', 'mere', '--strict'], folder).status).toBe(0);
      const again = thumbwright([...tarnToMere, '--take', '1', '--yes', '--json'], folder);
      valid(again.out);
      expect(JSON.parse(again.out)).toMatchObject({ wrote: [], refit: { proposals: [{ changes: [] }, {}, {}] } });
      // Back again, the hands find all of it where Mere has it now.
      const back = thumbwright(['refit', 'mere', '--to', 'tarn', '--json'], folder);
      valid(back.out);
      expect(JSON.parse(back.out)).toMatchObject({ refit: { proposals: [{ moved: [], dropped: [] }, {}, {}] } });
    });
  });

  it('writes the proposal that is asked for', () => {
    inFolder((folder) => {
      const { refit } = JSON.parse(thumbwright([...tarnToMere, '--json'], folder).out) as {
        refit: { proposals: { changes: { setting: string; after: string }[] }[] };
      };
      const [, second] = refit.proposals;
      expect(thumbwright([...tarnToMere, '--take', '2', '--yes'], folder).status).toBe(0);
      const text = readFileSync(join(folder, 'profiles', 'mere.yaml'), 'utf8');
      for (const { setting, after } of second?.changes ?? [])
        expect(text).toContain(`${setting.replace(/^.*\./, '')}: ${after}\n`);
    });
  });

  it('prints no line over 80 columns, and the same bytes every time', () => {
    inFolder((folder) => {
      for (const [from, to] of [
        ['tarn', 'mere'],
        ['fen', 'tarn'],
        ['tarn', 'fen'],
      ] as const) {
        const one = thumbwright(['refit', from, '--to', to], folder).out;
        expect(one.split('\n').filter((line) => line.length > 80)).toEqual([]);
        expect(thumbwright(['refit', from, '--to', to], folder).out).toBe(one);
      }
      const help = thumbwright(['help', 'refit'], folder).out;
      expect(help.split('\n').filter((line) => line.length > 80)).toEqual([]);
    });
  });

  it('keeps what the person pinned, and what the other profile pins for itself', () => {
    inFolder((folder) => {
      change(folder, 'tarn.yaml', /$/, 'refit: { pin: [rewind] }\n');
      const pinned = thumbwright(tarnToMere, folder).out.replace(/\n +/g, ' ');
      expect(pinned).toMatch(/dropped rewind +trigger-left \(L2\): Mere has no trigger-left; it is pinned/);
      change(folder, 'mere.yaml', /$/, 'hotkeys: { bind: { mute: south } }\nrefit: { pin: [mute] }\n');
      const own = thumbwright(tarnToMere, folder).out;
      expect(own).toMatch(/mute +Mere has it pinned to what it has itself/);
      expect(own).not.toMatch(/-> south/);
    });
  });

  it('moves the hold control with all its chords where the other device lacks it', () => {
    inFolder((folder) => {
      change(folder, 'mere.yaml', '    mode: { label: Menu }\n', '');
      change(folder, 'mere.yaml', ' BTN_MODE,', '');
      const taken = thumbwright([...tarnToMere, '--take', '1', '--yes'], folder);
      expect(taken.status).toBe(0);
      expect(taken.out).toMatch(/hold +mode \(Hub\) -> select \(Pick\)/);
      expect(taken.out).toMatch(/exit-game +start \(Go\), with the other hold/);
      expect(readFileSync(join(folder, 'profiles', 'mere.yaml'), 'utf8')).toContain('hold: select\n');
      const checked = thumbwright(['check', 'mere'], folder);
      expect([checked.status, checked.said.includes('same-finger')]).toEqual([0, false]);
    });
  });

  it('says which pins hold nothing, and why a pinned control is not kept', () => {
    inFolder((folder) => {
      change(folder, 'tarn.yaml', /$/, 'refit: { pin: [hold, rewind, next-state-slot] }\n');
      change(folder, 'house.yaml', 'hold: mode', 'hold: [thumb-right, mode]');
      const told = thumbwright(tarnToMere, folder).out.replaceAll(/\s+/g, ' ');
      expect(told).toContain('it is pinned, but Mere has no thumb-right');
      expect(told).toContain('Mere has no trigger-left; it is pinned, so that it may not move.');
      expect(told).toContain('Pinned, though Tarn has no such hotkey: next-state-slot.');
      valid(thumbwright([...tarnToMere, '--json'], folder).out);
      change(folder, 'tarn.yaml', 'pin: [hold, rewind,', 'pin: [hold, rewnd,');
      const misspelt = thumbwright(['check', 'tarn'], folder);
      expect([misspelt.status, misspelt.out]).toEqual([1, expect.stringContaining('Write rewind.')]);
    });
  });

  it('weighs by the points that a profile gives', () => {
    inFolder((folder) => {
      change(folder, 'tarn.yaml', /$/, 'refit: { weights: { hand: 0, finger: 0, kind: 500 } }\n');
      // Only select is a button of its own kind, but no kind of trigger or stick click is there: all stay equal.
      expect(thumbwright(tarnToMere, folder).out).toContain('on another kind of control: 3 (1,500)');
      change(folder, 'tarn.yaml', 'kind: 500', 'knd: 500');
      const wrong = thumbwright(tarnToMere, folder);
      expect([wrong.status, wrong.said]).toEqual([1, expect.stringContaining('unknown-key')]);
    });
  });

  it('says what is wrong with a call', () => {
    inFolder((folder) => {
      expect(thumbwright(['refit', 'tarn'], folder)).toMatchObject({
        status: 2,
        said: expect.stringContaining('refit tarn --to mere') as string,
      });
      expect(thumbwright(['refit', 'tarn', '--to', 'tarn'], folder)).toMatchObject({
        status: 2,
        said: expect.stringContaining('fits itself') as string,
      });
      expect(thumbwright(['refit', 'tarn', '--to', 'meer'], folder)).toMatchObject({
        status: 2,
        said: expect.stringContaining('Did you mean mere?') as string,
      });
      expect(thumbwright([...tarnToMere, '--take', 'best'], folder)).toMatchObject({
        status: 2,
        said: expect.stringContaining('the number of a proposal') as string,
      });
      expect(thumbwright([...tarnToMere, '--take', '7'], folder)).toMatchObject({
        status: 2,
        said: expect.stringContaining('no proposal 7') as string,
      });
      change(folder, 'mere.yaml', 'performance: 1', 'performance: 1\n  bodi: wide');
      const broken = thumbwright([...tarnToMere, '--json'], folder);
      valid(broken.out);
      expect(broken.status).toBe(1);
    });
  });
});
