import { describe, expect, it } from 'vitest';
import { numberControl } from '../../../src/controls/number-control.ts';
import type { DeviceInput } from '../../../src/model/device.ts';
import { axisSource, controlsOf, keySource, sending } from '../../support/controls/evdev-cases.ts';

const sdl = (version: string) => ({ order: 'sdl', version, udev: true }) as const;
const keys = [0x130, 0x131].map((number) => ({ code: `k${number}`, number }));
const digital = { minimum: -1, maximum: 1, fuzz: 0, flat: 0, resolution: 0 };

function padWith(axes: DeviceInput['axes']): DeviceInput {
  return { name: 'pad', keys, axes };
}

describe('numberControl', () => {
  it('gives no index without all codes of the device', () => {
    const controls = { ...controlsOf(padWith([])), complete: false };
    const found = numberControl(sending(keySource(0x130)), controls, sdl('2.26'));
    expect(found.numbered).toEqual([]);
    expect(found.problem).toContain('without all codes');
    expect(numberControl(sending(keySource(0x130)), controls, { order: 'name' }).numbered).toEqual([
      { form: 'text', text: 'BTN_SOUTH' },
    ]);
  });

  it('gives a key of another input no joystick index', () => {
    const volume: DeviceInput = { name: 'keys', keys: [{ code: 'KEY_VOLUMEUP', number: 0x73 }], axes: [] };
    const control = sending({ kind: 'key', input: 'keys', code: 'KEY_VOLUMEUP', number: 0x73 });
    for (const numbering of [sdl('2.26'), { order: 'kernel-joystick' } as const]) {
      expect(numberControl(control, controlsOf(padWith([]), volume), numbering).problem).toContain('the input keys');
    }
  });

  it('leaves open what the axis facts leave open, and only that', () => {
    const axes = [0x00, 0x01, 0x14, 0x15, 0x20].map((number) => ({ code: `a${number}`, number }));
    const controls = controlsOf(padWith(axes));
    // Whether HAT2 is a hat moves the axis after it, not the ones before it, nor any button.
    expect(numberControl(sending(axisSource(0x20, '+')), controls, sdl('2.26.5')).problem).toContain('leaves open');
    expect(numberControl(sending(axisSource(0x14, '+')), controls, sdl('2.26.5')).problem).toContain('leaves open');
    expect(numberControl(sending(axisSource(0x01, '+')), controls, sdl('2.26.5')).numbered).toMatchObject([
      { axis: 1 },
    ]);
    expect(numberControl(sending(keySource(0x131)), controls, sdl('2.26.5')).numbered).toMatchObject([{ index: 1 }]);
    expect(
      numberControl(sending(axisSource(0x20, '+')), controls, { order: 'kernel-joystick' }).numbered,
    ).toMatchObject([{ axis: 4 }]);
  });

  it('knows in which releases a second hat loses gas and brake', () => {
    const axes = [0x00, 0x01, 0x09, 0x10, 0x11, 0x12, 0x13].map((number) => ({
      code: `a${number}`,
      number,
      ...(number < 0x10 ? { minimum: 0, maximum: 255, fuzz: 4, flat: 8, resolution: 0 } : digital),
    }));
    const gas = (version: string) =>
      numberControl(sending(axisSource(0x09, '+')), controlsOf(padWith(axes)), sdl(version));
    expect(gas('2.22').numbered).toMatchObject([{ axis: 2 }]);
    expect(gas('2.24.0').numbered).toEqual([]);
    expect(gas('2.28.0').problem).toContain('does not count');
    expect(gas('2.28.3').problem).toContain('leaves open');
    expect(gas('2.28').problem).toContain('leaves open');
    expect(gas('2.28.5').numbered).toMatchObject([{ axis: 2 }]);
    expect(gas('3.2').numbered).toMatchObject([{ axis: 2 }]);
  });

  it('takes words of a table as they are, and says which is missing', () => {
    const control = sending(keySource(0x130));
    expect(numberControl(control, controlsOf(), { order: 'table', table: { 'extra-1': 'Loop' } }).numbered).toEqual([
      { form: 'text', text: 'Loop' },
    ]);
    expect(numberControl(control, controlsOf(), { order: 'table', table: {} }).problem).toContain(
      'no word for extra-1',
    );
    expect(numberControl(control, controlsOf(), { order: 'code' }).numbered).toEqual([{ form: 'text', text: '304' }]);
    expect(numberControl(control, controlsOf(), { order: 'position' }).numbered).toEqual([
      { form: 'text', text: 'extra-1' },
    ]);
  });
});
