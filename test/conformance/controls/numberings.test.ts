import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { codeName, eventCode, keyCodes, axisCodes, switchCodes } from '../../../src/controls/event-codes.ts';
import { numberControl } from '../../../src/controls/number-control.ts';
import { positionCodes, w3cAxes, w3cButtons } from '../../../src/controls/position-codes.ts';
import type { Numbering } from '../../../src/model/device.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { axisSource, controlsOf, evdevCases, inputOf, keySource, sending } from '../../support/controls/evdev-cases.ts';
import { readStandard } from '../../support/standards/read-standard.ts';
import { requireFile } from '../../support/tool.ts';

const joydev: Numbering = { order: 'kernel-joystick' };
const sdl = (udev: boolean, version = '2.26.5'): Numbering => ({ order: 'sdl', version, udev });

// evdev-index-cases.json: devices made with uinput on Linux 6.1.192; joydev read by JSIOCGBTNMAP and JSIOCGAXMAP, SDL
// 2.26.5 by pressing each code and reading its event.
describe.each(evdevCases.map((one) => [one.id, one] as const))('measured device %s', (_, one) => {
  const controls = controlsOf(inputOf(one));
  const indexOfKey = (code: number, numbering: Numbering): number | undefined => {
    const [found] = numberControl(sending(keySource(code)), controls, numbering).numbered;
    return found?.form === 'button' ? found.index : undefined;
  };

  it('has the buttons and axes that the joystick interface of the kernel gave', () => {
    const { attached, buttons, axes } = one.joydev;
    if (!attached) {
      for (const { code } of one.keys)
        expect(numberControl(sending(keySource(code)), controls, joydev).problem).toContain('no joystick interface');
      return;
    }
    for (const { code } of one.keys)
      expect(indexOfKey(code, joydev)).toBe(buttons.find((button) => button.code === code)?.index);
    expect(axes).toHaveLength(one.abs.length);
    for (const { index, code } of axes) {
      expect(numberControl(sending(axisSource(code, '-')), controls, joydev).numbered).toEqual([
        { form: 'axis', axis: index, side: '-', source: axisSource(code, '-') },
      ]);
    }
  });

  it('has the buttons, axes and hats that SDL gave', () => {
    const { seen_with_udev: withUdev, seen_without_udev: withoutUdev, buttons, axes_and_hats: axes } = one.sdl_2_26_5;
    for (const [udev, seen] of [
      [true, withUdev],
      [false, withoutUdev],
    ] as const) {
      if (seen === null) continue;
      for (const { index, code } of buttons) expect(indexOfKey(code, sdl(udev))).toBe(seen ? index : undefined);
      if (!seen) continue;
      for (const { code, seen_as: as, index, value_at_maximum: value } of axes) {
        const { numbered } = numberControl(sending(axisSource(code, '+')), controls, sdl(udev));
        const source = axisSource(code, '+');
        // SDL says 2 for right and 4 for down (SDL_HAT_RIGHT, SDL_HAT_DOWN).
        if (as === 'hat')
          expect(numbered).toEqual([{ form: 'hat', hat: index, direction: value === 2 ? 'right' : 'down', source }]);
        else if (as === 'axis') expect(numbered).toEqual([{ form: 'axis', axis: index, side: '+', source }]);
        else expect(numbered).toEqual([]);
      }
    }
  });
});

describe('event codes', () => {
  const header = '/usr/include/linux/input-event-codes.h';

  it.skipIf(requireFile(header, 'linux-libc-dev'))(
    'are those of linux/input-event-codes.h (Debian linux-libc-dev)',
    () => {
      const text = readFileSync(header, 'utf8');
      const defined = new Map<string, number>();
      for (const [, name = '', value = ''] of text.matchAll(
        /^#define\s+((?:KEY|BTN|ABS|SW)_\w+)\s+(\(?\w[\w+ ]*\)?)/gm,
      )) {
        const plus = /^\((\w+)\s*\+\s*(\d+)\)$/.exec(value);
        const number =
          plus === null ? (defined.get(value) ?? Number(value)) : (defined.get(plus[1] ?? '') ?? NaN) + Number(plus[2]);
        defined.set(name, number);
      }
      const bounds = /_(MAX|CNT|RESERVED)$|^KEY_(MIN_INTERESTING)$/;
      const wanted = [...defined].filter(([name]) => !bounds.test(name));
      expect(wanted.length).toBeGreaterThan(600);
      expect(wanted.filter(([name, number]) => eventCode(name)?.number !== number)).toEqual([]);
      // The grips came with Linux 6.17; a newer header has them, an older one does not.
      const ours = [...Object.keys(keyCodes), ...Object.keys(axisCodes), ...Object.keys(switchCodes)];
      expect(ours.filter((name) => !defined.has(name) && !name.startsWith('BTN_GRIP'))).toEqual([]);
    },
  );

  it('are shown by a place, not a letter', () => {
    expect([0x130, 0x131, 0x133, 0x134].map((number) => codeName('key', number))).toEqual([
      'BTN_SOUTH',
      'BTN_EAST',
      'BTN_NORTH',
      'BTN_WEST',
    ]);
    expect(codeName('axis', 0x10)).toBe('ABS_HAT0X');
    expect(codeName('key', 0x2fe)).toBe('0x2fe');
  });
});

describe('the W3C standard gamepad (w3c/gamepad, Remapping; commit 576061a)', () => {
  interface Standard {
    readonly buttons: readonly { readonly index: number; readonly kernel_code: string }[];
    readonly axes: readonly { readonly index: number; readonly kernel: string }[];
  }
  const standard = readStandard<Standard>('w3c-gamepad-standard.json');
  const positionOf = (code: string): string | undefined =>
    positions.find((position) => positionCodes[position].includes(code));

  it('numbers every button and axis by the place that the kernel text gives', () => {
    for (const { index, kernel_code: code } of standard.buttons) {
      const position = positions.find((one) => one === positionOf(code));
      expect(position === undefined ? undefined : w3cButtons[position]).toBe(index);
    }
    for (const { index, kernel } of standard.axes) {
      for (const side of ['-', '+'] as const) {
        const position = positions.find((one) => one === positionOf(`${kernel}${side}`));
        expect(position === undefined ? undefined : w3cAxes[position]).toEqual([index, side]);
      }
    }
    expect(Object.keys(w3cButtons)).toHaveLength(standard.buttons.length);
  });

  it('goes by place, also where the maker wired otherwise', () => {
    const control = { ...sending(keySource(0x133)), position: 'west' as const };
    expect(numberControl(control, controlsOf(), { order: 'w3c' }).numbered).toMatchObject([
      { form: 'button', index: 2 },
    ]);
  });
});
