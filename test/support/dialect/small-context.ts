import type { Context } from '../../../src/dialect/contract.ts';
import type { ControlSource, DeviceControl, DeviceControls, Part } from '../../../src/model/device.ts';
import type { DialectDocument } from '../../../src/model/document.ts';
import type { Place } from '../../../src/text/place.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import type { CatalogWritten } from '../../../src/vocabulary/shapes/catalog.ts';

const nowhere: Place = { source: { name: 'fen.yaml', text: '' }, span: { start: 0, end: 0 } };

const key = (code: string, number: number): ControlSource => ({ kind: 'key', input: 'pad', code, number });
const axis = (code: string, number: number, side: '+' | '-'): ControlSource => ({
  kind: 'axis',
  input: 'pad',
  code,
  number,
  side,
});

/** linux/input-event-codes.h (package linux-libc-dev 6.1). */
const sources: readonly (readonly [Position, string, readonly ControlSource[]])[] = [
  ['south', 'B', [key('BTN_SOUTH', 0x130)]],
  ['east', 'A', [key('BTN_EAST', 0x131)]],
  ['north', 'X', [key('BTN_NORTH', 0x133)]],
  ['west', 'Y', [key('BTN_WEST', 0x134)]],
  ['shoulder-left', 'L', [key('BTN_TL', 0x136)]],
  ['shoulder-right', 'R', [key('BTN_TR', 0x137)]],
  ['trigger-right', 'R2', [key('BTN_TR2', 0x139), axis('ABS_RZ', 0x05, '+')]],
  ['trigger-left', 'L2', [axis('ABS_Z', 0x02, '+')]],
  ['select', 'Sel', [key('BTN_SELECT', 0x13a)]],
  ['start', 'Start', [key('BTN_START', 0x13b)]],
  ['mode', 'Fn', [key('BTN_MODE', 0x13c)]],
  ['dpad-up', 'up', [axis('ABS_HAT0Y', 0x11, '-')]],
  ['dpad-down', 'down', [axis('ABS_HAT0Y', 0x11, '+')]],
  ['dpad-left', 'left', [axis('ABS_HAT0X', 0x10, '-')]],
  ['dpad-right', 'right', [axis('ABS_HAT0X', 0x10, '+')]],
];

const stick = { minimum: -32768, maximum: 32767, fuzz: 16, flat: 128, resolution: 0 };
const hat = { minimum: -1, maximum: 1, fuzz: 0, flat: 0, resolution: 0 };

const controls: DeviceControls = {
  complete: true,
  inputs: [
    {
      name: 'pad',
      keys: sources.flatMap(([, , all]) => all.filter((s) => s.kind === 'key')).sort((a, b) => a.number - b.number),
      axes: [
        { code: 'ABS_X', number: 0, ...stick },
        { code: 'ABS_Y', number: 1, ...stick },
        { code: 'ABS_Z', number: 2, ...stick },
        { code: 'ABS_RZ', number: 5, ...stick },
        { code: 'ABS_HAT0X', number: 16, ...hat },
        { code: 'ABS_HAT0Y', number: 17, ...hat },
      ],
    },
  ],
  controls: new Map(
    sources.map(([position, label, all]): [Position, DeviceControl] => [
      position,
      { position, label, sources: all, place: nowhere },
    ]),
  ),
};

const parts: ReadonlyMap<string, Part> = new Map<string, Part>([
  ['games', { name: 'games', mountedAt: '/media/games', gamesRoot: 'shelf', firmwareRoot: 'firmware' }],
  ['settings', { name: 'settings', mountedAt: '/opt/sedge' }],
  ['loose', { name: 'loose' }],
]);

const catalog: CatalogWritten = {
  catalog: 'shelf',
  format: 1,
  version: '1.0.0',
  systems: {
    burdock: { name: 'Burdock', folder: 'burdock' },
    lathe: { name: 'Lathe', folder: 'discs/lathe', 'frame-rate': 50 },
  },
  cores: {
    dunnock: { name: 'Dunnock', systems: ['burdock'] },
    thrush: { name: 'Thrush', systems: ['burdock'] },
    siskin: { name: 'Siskin', systems: ['lathe'] },
  },
};

/** Fen, with one instance at `settings:hall`: two mounted parts and one that is not, a pad with a hat and two triggers. */
export function smallContext(dialect: DialectDocument, changes: Partial<Context> = {}): Context {
  return {
    dialect,
    device: { id: 'fen', name: 'Fen' },
    instance: 'harrow-hall',
    root: 'settings:hall',
    version: '2.1.4',
    parts,
    controls,
    numbering: undefined,
    hold: 'mode',
    catalog,
    bits: 64,
    instances: new Map([
      ['harrow-hall', { dialect: 'harrow', bits: 64 }],
      ['harrow-annex', { dialect: 'harrow', bits: 32 }],
    ]),
    ...changes,
  };
}
