import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { pressTestPositions } from '../../../src/device/press-order.ts';
import { positionCodes } from '../../../src/controls/position-codes.ts';
import { eventCode } from '../../../src/controls/event-codes.ts';
import { splitControlCode } from '../../../src/controls/control-code.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { PressRecorder, procList } from '../../support/controls/press-recorder.ts';
import { fakeDevice, runOnDevice, snapshot } from '../../support/fake-device.ts';

const keys: readonly Position[] = [
  'south',
  'east',
  'west',
  'north',
  'dpad-up',
  'dpad-down',
  'dpad-left',
  'dpad-right',
  'shoulder-left',
  'shoulder-right',
  'select',
  'start',
  'mode',
];

function keyOf(position: Position): number {
  for (const text of positionCodes[position]) {
    const code = eventCode(splitControlCode(text).name);
    if (code?.kind === 'key') return code.number;
  }
  throw new Error(`${position} is no key by convention.`);
}

/** Two inputs, a pad and the volume keys; presses with bounces and repeats, west and north wired crosswise. */
function pressed(except: readonly Position[] = []): { inputs: string; events: Map<string, Uint8Array> } {
  const recorder = new PressRecorder(64);
  for (const position of keys) {
    if (except.includes(position)) continue;
    const wired = position === 'west' ? 'north' : position === 'north' ? 'west' : position;
    recorder.key('event1', keyOf(wired), {
      bounces: position === 'south' ? 3 : 0,
      repeats: position === 'east' ? 5 : 0,
    });
  }
  recorder.key('event0', keyOf('volume-up')).key('event0', keyOf('volume-down'));
  const inputs = procList(
    [
      { event: 'event0', name: 'Example Keys', keys: [keyOf('volume-up'), keyOf('volume-down'), 0x74] },
      { event: 'event1', name: 'Example Pad', keys: keys.map(keyOf).sort((a, b) => a - b) },
    ],
    64,
  );
  return { inputs, events: new Map(recorder.events()) };
}

/** A demo workspace, the script for it, and a run on a made-up device; gives the folder that the script filled. */
function fetched(folder: string, made: ReturnType<typeof pressed>): string {
  const written = thumbwright(['fetch', 'fen', '--script', 'bring.sh'], folder);
  expect(written.said).toBe('');
  expect(written.status).toBe(0);
  const root = join(folder, 'a device');
  const device = fakeDevice(root, readFileSync(join(folder, 'bring.sh'), 'utf8'), { games: 'media/games', ...made });
  for (const [from, to] of [
    ['sedge', 'opt/sedge'],
    ['harrow', 'opt/sedge/hall'],
    ['sill', 'media/games/sill'],
  ] as const) {
    const stock = join('profiles/dialects', from, 'stock');
    cpSync(join(stock, readdirSync(stock).sort()[0] ?? ''), join(root, to), { recursive: true });
  }
  const run = runOnDevice(device, ['sh']);
  expect(run.said).toBe('');
  expect(run.status).toBe(0);
  return join(device.games, 'thumbwright-fetch');
}

describe('fetch', () => {
  it('makes a script for a profile, and tells the ways to run it', () => {
    inFolder((folder) => {
      const { out, status } = thumbwright(['fetch', 'fen', '--script', 'bring.sh'], folder);
      expect(status).toBe(0);
      for (const way of [
        'Script menu',
        'Remote login',
        'Share',
        'switch remote login off',
        'tar -czf fetched.tar.gz',
        'copyright',
      ])
        expect(out).toContain(way);
      const script = readFileSync(join(folder, 'bring.sh'), 'utf8');
      expect(script).toContain("games='/media/games'\n");
      // Folders inside another come with it.
      expect(script).toContain(
        "folders='settings\t/opt/sedge\ngames/sill\t/media/games/sill\ngames/coble\t/media/games/coble'\n",
      );
      expect(
        readFileSync(join(folder, 'bring-press-order.txt'), 'utf8')
          .split('\n')
          .filter((line) => /^ *\d+\. /.test(line)).length,
      ).toBe(pressTestPositions.length);
      const other = thumbwright(
        ['fetch', 'fern', '--script', 'b.sh', '--folder', "/opt/it's", '--games', '/media/g', '--seconds', '0'],
        folder,
      );
      expect(other.status).toBe(0);
      expect(readFileSync(join(folder, 'b.sh'), 'utf8')).toContain("folders='opt/it'\\''s\t/opt/it'\\''s'\n");
      expect(existsSync(join(folder, 'b-press-order.txt'))).toBe(false);
    });
  });

  it.each([
    [['fetch'], 2, 'what is to be fetched'],
    [['fetch', 'fen', '--script', 'bring'], 2, 'ends in .sh'],
    [['fetch', 'heron', '--script', 'b.sh'], 2, 'no profile is called "heron"'],
    [['fetch', '--script', 'b.sh'], 2, 'name a profile, or the folders'],
    [['fetch', 'a', '--script', 'b.sh', '--folder', 'opt'], 2, 'Begin with a slash'],
    [['fetch', 'a', '--script', 'b.sh', '--folder', '/a/../b'], 2, 'no folder of a device'],
    [['fetch', 'fen', '--script', 'b.sh', '--seconds', 'x'], 2, '--seconds'],
    [['fetch', 'nowhere'], 2, 'there is no nowhere'],
    [['fetch', 'profiles', '--as', '../x'], 2, "a device's name"],
    [['fetch', 'profiles'], 1, 'not-fetched'],
  ])('%j ends with %d and a way out', (args, status, says) => {
    inFolder((folder) => {
      const run = thumbwright(args, folder);
      expect(run.status).toBe(status);
      expect(run.said).toContain(says);
    });
  });

  it('unpacks a run of the script once, and places what was pressed over every convention', () => {
    inFolder((folder) => {
      const from = fetched(folder, pressed());
      const before = snapshot(from);
      const first = thumbwright(['fetch', from], folder);
      expect(first.said.split('\n').filter((line) => /^(error|warning)/.test(line))).toEqual([]);
      expect(first.status).toBe(0);
      expect(first.out).toContain('.thumbwright/private/fetched/fen/1\n');
      expect(first.out).toContain(`${keys.length + 2} controls placed`);
      expect(first.out).toContain('inputs: pad (Example Pad), keys (Example Keys)');
      expect(first.out).toContain('missing: no folder: ');
      const kept = join(folder, '.thumbwright/private/fetched/fen/1');
      expect(readFileSync(join(kept, 'files/settings/hall/about.txt'), 'utf8')).toContain('Harrow');
      expect(statSync(join(kept, 'files/settings/hall/about.txt')).mode & 0o077).toBe(0);
      expect(readFileSync(join(kept, 'capture.txt'), 'utf8')).toMatch(/^capture: 1\nword-size: 64\n/);
      const again = thumbwright(['fetch', join(from, '..')], folder);
      expect(again.out).toContain('(was here already)');
      expect(readdirSync(join(folder, '.thumbwright/private/fetched/fen'))).toEqual(['1']);
      expect(snapshot(from)).toEqual(before);
      const printed = thumbwright(['fetch', from, '--json'], folder).out;
      const json = JSON.parse(printed) as { runs: { placed: string[] }[] };
      const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
      const validate = ajv.compile(JSON.parse(readFileSync('schema/fetch-output.schema.json', 'utf8')) as object);
      validate(json);
      expect(validate.errors).toBeNull();
      expect([...(json.runs[0]?.placed ?? [])].sort()).toEqual([...keys, 'volume-up', 'volume-down'].sort());
    });
  });

  it('unpacks an archive as the folder that was packed, and says so of none', () => {
    inFolder((folder) => {
      const from = fetched(folder, pressed());
      const archive = join(folder, 'fetched.tar.gz');
      expect(spawnSync('tar', ['-czf', archive, '-C', join(from, '..'), 'thumbwright-fetch']).status).toBe(0);
      const run = thumbwright(['fetch', 'fetched.tar.gz'], folder);
      expect(run.said).toBe('');
      expect(run.status).toBe(0);
      expect(run.out).toContain(`${keys.length + 2} controls placed`);
      // The folder is known again by what it holds.
      expect(thumbwright(['fetch', from], folder).out).toContain('(was here already)');
      writeFileSync(archive, 'PK\u0003\u0004');
      const zip = thumbwright(['fetch', 'fetched.tar.gz'], folder);
      expect(zip.status).toBe(1);
      expect(zip.said).toContain('fetched.tar.gz cannot be unpacked: it is a zip archive');
      expect(zip.said).toContain('Unpack it on the desktop');
    });
  });

  it('says which control is to be pressed again', () => {
    inFolder((folder) => {
      const run = thumbwright(['fetch', fetched(folder, pressed(['shoulder-right']))], folder);
      expect(run.status).toBe(0);
      expect(run.out).toContain('to be pressed again: shoulder-right\n');
      expect(run.said).toContain('capture-press-again');
    });
  });

  it('takes no link, and no more than fits, from a card that a stranger made', () => {
    inFolder((folder) => {
      const card = join(folder, 'card/thumbwright-fetch/1');
      mkdirSync(join(card, 'files', ...Array.from({ length: 40 }, (_, k) => `d${k}`)), { recursive: true });
      writeFileSync(join(card, 'DONE.txt'), 'x');
      writeFileSync(join(card, 'about.txt'), 'device: ../../escape\nword-size: 64\n');
      symlinkSync('/etc', join(card, 'files/out'));
      symlinkSync('/etc/passwd', join(card, 'inputs.txt'));
      writeFileSync(join(card, 'files/huge.bin'), Buffer.alloc((1 << 20) + 1));
      const run = thumbwright(['fetch', 'card'], folder);
      expect(run.status).toBe(0);
      expect(run.said).toContain('fetched-left-out');
      expect(readdirSync(join(folder, '.thumbwright/private/fetched'))).toEqual(['device']);
      expect(readdirSync(join(folder, '.thumbwright/private/fetched/device/1'))).toEqual(['DONE.txt', 'about.txt']);
      expect(run.out).toContain('missing: the list of inputs');
      rmSync(join(card, 'DONE.txt'));
      expect(thumbwright(['fetch', 'card'], folder).status).toBe(1);
    });
  });
});

describe('new --from', () => {
  it('says what it could not place: a control that was missed, folders that are not known, a device without a pad', () => {
    inFolder((folder) => {
      const from = fetched(folder, pressed(['shoulder-right']));
      // As if another frontend's folder had come too.
      const about = join(from, '1/about.txt');
      writeFileSync(about, `${readFileSync(about, 'utf8')}folder: other\t/opt/other\n`);
      mkdirSync(join(from, '1/files/other'));
      writeFileSync(join(from, '1/files/other/strange.cfg'), 'x');
      thumbwright(['fetch', from], folder);
      const kept = '.thumbwright/private/fetched/fen/1';
      const made = thumbwright(['new', 'heron', '--from', kept], folder);
      expect(made.status).toBe(0);
      expect(made.said).toContain('capture-press-again');
      const profile = readFileSync(join(folder, 'profiles/heron.yaml'), 'utf8');
      for (const line of [
        'The press test does not tell shoulder-right: their usual codes are taken. Press them again with fetch.',
        'No dialect at hand knows what lies in /opt/other.',
      ]) {
        expect(made.out).toContain(`not placed: ${line}\n`);
        expect(profile).toContain(`# - ${line}\n`);
      }
      const check = thumbwright(['check', 'heron'], folder);
      expect(check.status).toBe(0);
      const json = JSON.parse(thumbwright(['new', 'ibis', '--from', kept, '--json'], folder).out) as { open: string[] };
      const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
      const validate = ajv.compile(JSON.parse(readFileSync('schema/new-output.schema.json', 'utf8')) as object);
      validate(json);
      expect(validate.errors).toBeNull();
      expect(json.open).toContain('No dialect at hand knows what lies in /opt/other.');
      // A desktop's list: keys and a mouse, no pad.
      const inputs = procList([{ event: 'event0', name: 'Example Keys', keys: [0x1e, 0x30, 0x110] }], 64);
      writeFileSync(join(folder, kept, 'inputs.txt'), inputs);
      const other = thumbwright(['new', 'egret', '--from', kept], folder);
      expect(other.status).toBe(0);
      expect(other.said).toContain('capture-no-pad');
      expect(other.said).toContain('Run fetch on the handheld itself');
      expect(other.out).toContain('not placed: The controls: ');
      expect(readFileSync(join(folder, 'profiles/egret.yaml'), 'utf8')).not.toContain('capture:');
      expect(existsSync(join(folder, 'profiles/captures/egret.txt'))).toBe(false);
    });
  });

  it('fills in everything but the labels; the result loads, and check asks only for what is left', () => {
    inFolder((folder) => {
      thumbwright(['fetch', fetched(folder, pressed())], folder);
      const made = thumbwright(['new', 'heron', '--from', '.thumbwright/private/fetched/fen/1'], folder);
      expect(made.said).toBe('');
      expect(made.status).toBe(0);
      expect(made.out).toContain('not placed: Nothing came from /media/games/coble.\n');
      const profile = readFileSync(join(folder, 'profiles/heron.yaml'), 'utf8');
      expect(profile).toContain('  os: { dialect: sedge@^1, version: "3.2.1", root: "settings:" }\n');
      expect(profile).toContain('    settings: { mounted-at: "/opt/sedge" }\n');
      expect(profile).toContain('  harrow: { dialect: harrow@^1, version: "2.1.4", root: "settings:hall" }\n');
      expect(profile).toContain('  sill: { dialect: sill@^1, version: "4.0.2", root: "games:sill" }\n');
      expect(profile).toMatch(/^ {4}west: \{\} +# label: \? It sends pad\/BTN_NORTH\.$/m);
      expect(profile).toContain('    capture: captures/heron.txt\n');
      const check = thumbwright(['check', 'heron', '--json'], folder);
      const { findings } = JSON.parse(check.out) as { findings: { code: string; grade: string; detail: string }[] };
      expect(findings.filter(({ grade }) => grade === 'error')).toEqual([]);
      const again = thumbwright(['new', 'heron', '--from', '.thumbwright/private/fetched/fen/1'], folder);
      expect(again.status).toBe(1);
      expect(thumbwright(['new', 'ibis', '--from', 'profiles'], folder).status).toBe(1);
      expect(existsSync(join(folder, 'profiles/ibis.yaml'))).toBe(false);
    });
  });
});
