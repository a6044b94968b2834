// The mapping line in the demo's emitted file, loaded by libsdl2: each control of Fen is moved on its virtual joystick, by the index
// that test/unit/demo/wiring.test.ts works out, and the output at the control's place must answer. Only the GUID is the virtual
// joystick's own, since it stands for a device that is not there; Fen's is held against the library's reading of it.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSdlGuid } from '../../../src/controls/sdl-guid.ts';
import { askSdl, sdlMissing, sdlVersion } from '../../support/controls/sdl.ts';
import type { Move, Moved } from '../../support/controls/sdl.ts';

const lines = ['hall', 'annex'].map((copy) => {
  const text = readFileSync(new URL(`../../../out/fen/settings/${copy}/shapes.txt`, import.meta.url), 'utf8');
  return text.split('\n').filter((line) => line.includes('Fen'));
});
const line = lines[0]?.[0] ?? '';

/** Where it sits, what is moved, and SDL's output for that place: x is the left face button, y the upper one. */
const moves: readonly (readonly [control: string, move: Move, output: string])[] = [
  ['south', { button: 0 }, 'a'],
  ['east', { button: 1 }, 'b'],
  ['west, which sends BTN_NORTH', { button: 2 }, 'x'],
  ['north, which sends BTN_WEST', { button: 3 }, 'y'],
  ['shoulder-left', { button: 4 }, 'leftshoulder'],
  ['shoulder-right', { button: 5 }, 'rightshoulder'],
  ['select', { button: 8 }, 'back'],
  ['start', { button: 9 }, 'start'],
  ['mode', { button: 10 }, 'guide'],
  ['dpad-up', { button: 11 }, 'dpup'],
  ['dpad-down', { button: 12 }, 'dpdown'],
  ['dpad-left', { button: 13 }, 'dpleft'],
  ['dpad-right', { button: 14 }, 'dpright'],
  ['trigger-left, which sends ABS_Z too', { axis: 0, value: 32767 }, 'lefttrigger'],
  ['trigger-right, which sends ABS_RZ too', { axis: 1, value: 32767 }, 'righttrigger'],
];

describe('the mapping line of the demo', () => {
  it('is one line in each copy of Harrow, the same in both', () => {
    expect(lines.map((found) => found.length)).toEqual([1, 1]);
    expect(lines[1]).toEqual(lines[0]);
  });

  // sdl-guid-cases and standards.md, section 3: bus, vendor, product and version, each with its low byte first.
  it('has the GUID of what the capture says of the pad', () => {
    const capture = readFileSync(new URL('../../../profiles/captures/fen.txt', import.meta.url), 'utf8');
    expect(capture).toMatch(/I: Bus=0019 Vendor=0001 Product=0f02 Version=0100\nN: Name="Fen Reed Pad"/);
    expect(readSdlGuid(line.slice(0, 32))).toMatchObject({
      bus: 0x0019,
      vendor: 0x0001,
      product: 0x0f02,
      version: 0x0100,
      crc: 0,
    });
  });

  describe.skipIf(sdlMissing)(`judged by libsdl2 ${sdlVersion ?? '(not installed)'}`, () => {
    it('lets every control answer with the output of its place, and no other', () => {
      const moved = askSdl<Moved>({
        ask: 'move',
        line,
        buttons: 15,
        axes: 2,
        hats: 0,
        low: [0, 1],
        moves: moves.map(([, move]) => move),
      });
      const answers = moves.map(([control], k) => [control, Object.keys(moved?.outputs?.[k] ?? {})]);
      expect(answers).toEqual(moves.map(([control, , output]) => [control, [output]]));
    });
  });
});
