import { describe, expect, it } from 'vitest';
import { makeMapping } from '../../../src/controls/make-mapping.ts';
import { numberControl } from '../../../src/controls/number-control.ts';
import { readControls } from '../../../src/controls/read-controls.ts';
import { crc16, readSdlGuid, sdlGuid, withoutCrc } from '../../../src/controls/sdl-guid.ts';
import { parseMapping, printMapping } from '../../../src/controls/sdl-mapping.ts';
import type { DeviceControls, InputIdentity, Numbered } from '../../../src/model/device.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { evdevCases, inputOf } from '../../support/controls/evdev-cases.ts';
import { askSdl, sdlMissing, sdlVersion } from '../../support/controls/sdl.ts';
import type { Move, Moved } from '../../support/controls/sdl.ts';
import { readStandard } from '../../support/standards/read-standard.ts';

interface GuidCases {
  readonly guid_cases: readonly {
    readonly id: string;
    readonly kernel_name: string;
    readonly bus: string;
    readonly vendor: string;
    readonly product: string;
    readonly version: string;
    readonly sdl_2_26_5: { readonly guid: string; readonly crc16: string };
    readonly sdl_2_24: { readonly guid: string };
    readonly sdl_2_30: { readonly guid: string };
  }[];
  readonly live_element_cases: readonly {
    readonly elements: string;
    readonly states: Readonly<
      Record<string, { readonly buttons: readonly string[]; readonly axes: Readonly<Record<string, number>> }>
    >;
  }[];
}

const cases = readStandard<GuidCases>('sdl-guid-cases.json');

function identityOf(
  one: { readonly bus: string; readonly vendor: string; readonly product: string; readonly version: string },
  name: string,
): InputIdentity {
  const hex = (text: string): number => Number.parseInt(text, 16);
  return { bus: hex(one.bus), vendor: hex(one.vendor), product: hex(one.product), version: hex(one.version), name };
}

// sdl-guid-cases.json: read from libSDL2 2.26.5 with uinput devices; for 2.24 and 2.30 from their source text.
describe('GUIDs', () => {
  it.each(cases.guid_cases.map((one) => [one.id, one] as const))('of %s are those of three releases', (_, one) => {
    const identity = identityOf(one, one.kernel_name);
    expect(sdlGuid(identity, '2.26.5')).toBe(one.sdl_2_26_5.guid);
    expect(sdlGuid(identity, '2.24.2')).toBe(one.sdl_2_24.guid);
    expect(sdlGuid(identity, '2.30.0')).toBe(one.sdl_2_30.guid);
    const read = readSdlGuid(one.sdl_2_26_5.guid);
    expect(read?.bus).toBe(identity.bus);
    expect(read?.crc.toString(16).padStart(4, '0')).toBe(one.sdl_2_26_5.crc16);
    if (read?.kind === 'numbers')
      expect([read.vendor, read.product, read.version]).toEqual([identity.vendor, identity.product, identity.version]);
    else expect(identity.name.startsWith(read?.name ?? '?')).toBe(true);
  });

  it('have the CRC-16/ARC of "123456789"', () => {
    expect(crc16(new TextEncoder().encode('123456789')).toString(16)).toBe('bb3d');
  });

  it('are none when they are not 32 hexadecimal digits', () => {
    for (const text of ['', '1900', 'zz'.repeat(16), '0'.repeat(33)]) expect(readSdlGuid(text)).toBeUndefined();
  });
});

describe.skipIf(sdlMissing)(`libsdl2 ${sdlVersion ?? '(not installed)'} as the judge`, () => {
  // The list holds names of devices: nothing of it is kept or printed, only how many differ.
  it('has built-in mappings that all print back unchanged and decode as the library says', () => {
    const found = askSdl<{
      readonly mappings: readonly {
        readonly line: string;
        readonly bus: number;
        readonly vendor: number;
        readonly product: number;
        readonly version: number;
        readonly crc: number;
      }[];
    }>({ ask: 'guids' });
    const mappings = found?.mappings ?? [];
    expect(mappings.length).toBeGreaterThan(100);
    const wrong = { unparsed: 0, changed: 0, unbound: 0, guid: 0 };
    for (const { line, ...said } of mappings) {
      const parsed = parseMapping(line);
      if (parsed === undefined) {
        wrong.unparsed += 1;
        continue;
      }
      if (printMapping(parsed) !== line) wrong.changed += 1;
      if (
        parsed.fields.some(
          (field) =>
            field.kind === 'other' && !/^(platform|crc|hint|type|face|sdk[<>]=?):|^[a-z0-9]+:$/.test(field.text),
        )
      )
        wrong.unbound += 1;
      const guid = readSdlGuid(parsed.guid);
      // Lines for other systems may have a GUID that is a name.
      const same =
        guid?.kind === 'numbers'
          ? guid.bus === said.bus &&
            guid.vendor === said.vendor &&
            guid.product === said.product &&
            guid.version === said.version
          : guid !== undefined && said.vendor === 0;
      if (!same) wrong.guid += 1;
    }
    expect(wrong).toEqual({ unparsed: 0, changed: 0, unbound: 0, guid: 0 });
  });

  // Every measured device whose pad SDL opens, wired straight, and once with west and north crossed.
  const pads = evdevCases.filter(({ abs, keys }) => keys.length > 2 && abs.every(({ code }) => code !== 0x21));
  it.each(pads.flatMap((one) => [[one.id, 'straight', one] as const, [one.id, 'crosswise', one] as const]))(
    'finds the right output for every control of %s, wired %s',
    (_, wires, one) => {
      const input = inputOf(one);
      const has = (number: number): boolean => input.keys.some((key) => key.number === number);
      const written =
        wires === 'crosswise' && has(0x133) && has(0x134)
          ? { west: { code: 'BTN_NORTH' }, north: { code: 'BTN_WEST' } }
          : {};
      const nowhere = { source: { name: 'test', text: '' }, span: { start: 0, end: 0 } };
      const capture = { inputs: [input], pressed: new Map(), unplaced: [] };
      const { value: controls } = readControls(written, { place: () => nowhere, keyPlace: () => nowhere }, capture);
      const version = sdlVersion ?? '';
      const { line } = makeMapping(controls, {
        input: 'pad',
        identity: identityOf(one, one.name),
        version,
        udev: true,
      });
      expect(line.guid).toBe(withoutCrc(one.sdl_2_26_5.guid));

      const wanted = [...controls.controls.values()].flatMap((control) => {
        const { numbered } = numberControl(control, controls, { order: 'sdl', version, udev: true });
        const answer = answers[control.position];
        return answer === undefined
          ? []
          : numbered.map((form) => ({ answer, form, moves: moveOf(form, restsLow(form, controls)) }));
      });
      const low = input.axes.flatMap((axis) => {
        const [form] = numberControl(
          {
            position: 'extra-1',
            place: nowhere,
            sources: [{ kind: 'axis', input: 'pad', code: axis.code, number: axis.number, side: '+' }],
          },
          controls,
          { order: 'sdl', version, udev: true },
        ).numbered;
        return form?.form === 'axis' && (axis.minimum ?? 0) >= 0 ? [form.axis] : [];
      });
      const moved = askSdl<Moved>({
        ask: 'move',
        line: printMapping(line),
        buttons: one.keys.length,
        axes: one.sdl_2_26_5.num_axes,
        hats: one.sdl_2_26_5.num_hats,
        low,
        moves: wanted.map(({ moves }) => moves),
      });
      expect(wanted.length).toBeGreaterThan(2);
      expect(
        moved?.outputs?.map((outputs, k) => ({
          k,
          outputs: Object.entries(outputs).map(([name, value]) =>
            Math.abs(value) > 1 ? `${value < 0 ? '-' : '+'}${name}` : name,
          ),
        })),
      ).toEqual(wanted.map(({ answer }, k) => ({ k, outputs: [answer] })));
    },
  );

  it('agrees on what is a binding: the measured elements, each moved', () => {
    for (const { elements, states } of cases.live_element_cases) {
      const parsed = parseMapping(`${'0'.repeat(32)},Pad,${elements}`);
      if (parsed === undefined) throw new Error('no mapping');
      expect(printMapping(parsed)).toBe(`${'0'.repeat(32)},Pad,${elements}`);
      // What never answered, in any state, is no binding to us either, unless it names what is not there (b99, h0.16).
      const outputs = parsed.fields.flatMap((field) => (field.kind === 'binding' ? [field.output.toLowerCase()] : []));
      const answered = new Set(
        Object.values(states).flatMap((state) => [...state.buttons, ...Object.keys(state.axes)]),
      );
      if (!elements.includes(' ')) for (const name of answered) expect(outputs).toContain(name);
      if (answered.size === 0 && !/b99|h0\.16/.test(elements))
        expect(outputs.filter((name) => !elements.includes('thisnameis') || name !== 'a')).toEqual([]);
    }
  });
});

const answers: Partial<Readonly<Record<Position, string>>> = {
  south: 'a',
  east: 'b',
  west: 'x',
  north: 'y',
  select: 'back',
  start: 'start',
  mode: 'guide',
  'thumb-left': 'leftstick',
  'thumb-right': 'rightstick',
  'shoulder-left': 'leftshoulder',
  'shoulder-right': 'rightshoulder',
  'dpad-up': 'dpup',
  'dpad-down': 'dpdown',
  'dpad-left': 'dpleft',
  'dpad-right': 'dpright',
  'trigger-left': '+lefttrigger',
  'trigger-right': '+righttrigger',
  'stick-left-left': '-leftx',
  'stick-left-right': '+leftx',
  'stick-left-up': '-lefty',
  'stick-left-down': '+lefty',
  'stick-right-left': '-rightx',
  'stick-right-right': '+rightx',
  'stick-right-up': '-righty',
  'stick-right-down': '+righty',
};

function restsLow(form: Numbered, controls: DeviceControls): boolean {
  return (
    form.form === 'axis' &&
    (controls.inputs[0]?.axes.find(({ number }) => number === form.source?.number)?.minimum ?? 0) >= 0
  );
}

function moveOf(form: Numbered, low: boolean): Move {
  if (form.form === 'button') return { button: form.index };
  if (form.form === 'hat') return { hat: form.hat, value: { up: 1, right: 2, down: 4, left: 8 }[form.direction] };
  if (form.form === 'axis') return { axis: form.axis, value: form.side === '+' || low ? 32767 : -32768 };
  throw new Error('a word cannot be moved');
}
