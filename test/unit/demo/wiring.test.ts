// The demo's three devices are wired in three ways, and each emitted file has the number that its own frontend counts by.
//
// Every number here was worked out by hand, by these rules:
// - SDL 2.26 counts buttons by their codes from BTN_JOYSTICK (120) on, ascending, then those below it (SDL_sysjoystick.c, release-2.26.x,
//   lines 966-985); a d-pad on ABS_HAT0X and ABS_HAT0Y is one hat (lines 986-1021); the other axes are counted by their codes
//   (lines 1022-1065). Its hats say up, right, down, left.
// - The kernel's joystick interface counts buttons from 120 on too, and every axis, those of hats as well (joydev.c, Linux 6.1, 948-966).
// - The W3C's standard gamepad goes by place alone (w3c/gamepad, Remapping).
// Codes: SOUTH 130, EAST 131, NORTH 133, WEST 134, TL 136, TR 137, TL2 138, TR2 139, SELECT 13a, START 13b, MODE 13c, THUMBL 13d,
// THUMBR 13e, DPAD_UP 220 to DPAD_RIGHT 223; X 0, Y 1, Z 2, RX 3, RY 4, RZ 5, HAT0X 10, HAT0Y 11 (linux/input-event-codes.h).
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { numberControl } from '../../../src/controls/number-control.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import type { Numbered, Numbering } from '../../../src/model/device.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { Device } from '../../../src/model/resolved.ts';
import { openProject, profilePaths, runProfile } from '../../../src/pipeline.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { readOutside } from '../../support/demo/read-outside.ts';

const root = new URL('../../..', import.meta.url).pathname;

type Line = readonly [file: string, key: string, text: string, why: string];

const emitted: Readonly<Record<string, readonly Line[]>> = {
  // Keys, read from a capture with words of 32 bits; west sends BTN_NORTH and north BTN_WEST.
  // SOUTH 0, EAST 1, NORTH 2, WEST 3, TL 4, TR 5, TL2 6, TR2 7, SELECT 8, START 9, MODE 10, DPAD_UP 11, DPAD_DOWN 12; Z 0, RZ 1.
  fen: [
    ['settings/hall/keys.conf', 'first-fore', '2', 'west sends BTN_NORTH, the third code'],
    ['settings/hall/keys.conf', 'first-aft', '3', 'north sends BTN_WEST, the fourth'],
    ['settings/hall/keys.conf', 'pull-beat', '3', 'the frame rate is on north'],
    ['settings/annex/keys.conf', 'pull-beat', '3', 'the other copy counts the same way'],
    ['settings/hall/keys.conf', 'pull-with', '10', 'hold is mode: SOUTH to START come before it'],
    ['settings/hall/keys.conf', 'pull-peg', '11', 'the d-pad is keys from 220 on, behind all others'],
    ['settings/hall/keys.conf', 'pull-unpeg', '12', 'DPAD_DOWN follows DPAD_UP'],
    [
      'settings/hall/keys.conf',
      'pull-speed',
      '7',
      'trigger-right sends a key and an axis; the dialect prefers the button',
    ],
    ['games/coble/quay.xml', '/quay/crew/aye', 'BTN_EAST', 'Coble goes by name'],
    ['games/sill/shelf.json', '/hand/agree', 'east', 'Sill goes by place'],
  ],
  // The d-pad is a hat and the lower triggers are axes.
  // SOUTH 0, EAST 1, NORTH 2, WEST 3, TL 4, TR 5, SELECT 6, START 7, MODE 8, THUMBL 9, THUMBR 10; X 0, Y 1, Z 2, RX 3, RY 4, RZ 5; hat 0.
  tarn: [
    ['settings/hall/keys.conf', 'pull-with', '8', 'no trigger keys come before MODE here'],
    ['settings/hall/keys.conf', 'pull-beat', '2', 'north sends BTN_NORTH'],
    ['settings/hall/keys.conf', 'pull-peg', 'hat0.up', 'ABS_HAT0Y towards less'],
    ['settings/hall/keys.conf', 'pull-unpeg', 'hat0.down', 'ABS_HAT0Y towards more'],
    ['settings/hall/keys.conf', 'tilt-back', 'axis2.+', 'trigger-left is ABS_Z, behind X and Y'],
    ['settings/hall/keys.conf', 'tilt-slow', 'axis5.+', 'trigger-right is ABS_RZ, the last of six'],
    ['settings/hall/keys.conf', 'pull-speed', '1', 'fast-forward is on east'],
    [
      'settings/withy/weave.toml',
      'knots.still',
      'b8&b14',
      'the W3C has select at 8 and left at 14, whatever they send',
    ],
    ['settings/withy/weave.toml', 'knots.unwind', 'b16&b6', 'and the centre at 16, the lower left front at 6'],
  ],
  // Keys alone, no lower triggers: what comes behind them moves down by two.
  // SOUTH 0, EAST 1, NORTH 2, WEST 3, TL 4, TR 5, SELECT 6, START 7, MODE 8, DPAD_UP 9, DPAD_DOWN 10.
  mere: [
    ['settings/hall/keys.conf', 'pull-with', '8', 'MODE'],
    ['settings/hall/keys.conf', 'pull-beat', '2', 'north sends BTN_NORTH'],
    ['settings/hall/keys.conf', 'pull-peg', '9', 'DPAD_UP is the first behind MODE'],
    ['settings/hall/keys.conf', 'pull-unpeg', '10', 'DPAD_DOWN'],
    ['settings/hall/keys.conf', 'pull-speed', '1', 'without a trigger the second wish is taken, east'],
  ],
};

describe.each(Object.entries(emitted))('what %s’s files say', (device, lines) => {
  test.each(lines)('%s: %s is %s, since %s', (file, key, text) => {
    expect(readOutside(join(root, 'out', device, file)).get(key)).toBe(text);
  });
});

const sdl: Numbering = { order: 'sdl', version: '2.26', udev: true };
const kernel: Numbering = { order: 'kernel-joystick' };
const w3c: Numbering = { order: 'w3c' };

type Row = readonly [position: Position, sdl: string, kernel: string, w3c: string];
const wired: Readonly<Record<string, readonly Row[]>> = {
  fen: [
    ['west', 'button 2', 'button 2', 'button 2'],
    ['north', 'button 3', 'button 3', 'button 3'],
    ['dpad-right', 'button 14', 'button 14', 'button 15'],
    ['trigger-right', 'button 7, axis 1 +', 'button 7, axis 1 +', 'button 7'],
  ],
  tarn: [
    ['west', 'button 3', 'button 3', 'button 2'],
    ['north', 'button 2', 'button 2', 'button 3'],
    // HAT0X and HAT0Y are the seventh and the eighth axis.
    ['dpad-up', 'hat 0 up', 'axis 7 -', 'button 12'],
    ['dpad-right', 'hat 0 right', 'axis 6 +', 'button 15'],
    ['trigger-right', 'axis 5 +', 'axis 5 +', 'button 7'],
    ['stick-right-up', 'axis 4 -', 'axis 4 -', 'axis 3 -'],
  ],
  mere: [
    ['west', 'button 3', 'button 3', 'button 2'],
    ['dpad-right', 'button 12', 'button 12', 'button 15'],
    ['mode', 'button 8', 'button 8', 'button 16'],
  ],
};

function shown(one: Numbered): string {
  switch (one.form) {
    case 'button':
      return `button ${one.index}`;
    case 'axis':
      return `axis ${one.axis} ${one.side}`;
    case 'hat':
      return `hat ${one.hat} ${one.direction}`;
    case 'text':
      return one.text;
  }
}

function deviceOf(name: string): Device {
  const project = openProject(nodeFiles, hostPath(root.replace(/\/$/, ''))).value;
  const path =
    project === undefined ? undefined : profilePaths(project).find((one) => one.path.endsWith(`/${name}.yaml`));
  const built =
    project === undefined || path === undefined
      ? undefined
      : runProfile(project, path.path, { card: undefined, newest: false }).built;
  if (built === undefined) throw new Error(`${name} cannot be built.`);
  return built.compiled.resolved.device;
}

describe.each(Object.entries(wired))('the numbers of %s', (name, rows) => {
  const { controls } = deviceOf(name);
  test.each(rows)('%s: SDL %s, kernel joystick %s, W3C %s', (position, ...expected) => {
    const control = controls.controls.get(position);
    if (control === undefined) throw new Error(`${name} has no ${position}.`);
    const numbers = [sdl, kernel, w3c].map((numbering) =>
      numberControl(control, controls, numbering).numbered.map(shown).join(', '),
    );
    expect(numbers).toEqual(expected);
  });
});

test('Fen’s capture says what the profile said by hand: its press test disagrees nowhere, and its words have 32 bits', () => {
  const file = join(root, 'profiles/captures/fen.txt');
  expect(existsSync(file)).toBe(true);
  const text = readFileSync(file, 'utf8');
  expect(text).toContain('word-size: 32');
  // The bits of words 17 and 9, by hand: DPAD_UP to DPAD_RIGHT are 17 * 32 + 0 to 3; SOUTH is 9 * 32 + 16.
  expect(text).toContain('B: KEY=f 0 0 0 0 0 0 0 1fdb0000 0 0 0 0 0 0 0 0 0\n');
  const { controls } = deviceOf('fen').controls;
  expect(controls.get('west')?.sources.map(({ code }) => code)).toEqual(['BTN_NORTH']);
  expect(controls.get('north')?.sources.map(({ code }) => code)).toEqual(['BTN_WEST']);
});
