// What `explain` says of the demo's controls; the numbers are those of wiring.test.ts, worked out by hand there.
import { describe, expect, it, test } from 'vitest';
import { controlLines } from '../../../src/report/explain/control-lines.ts';
import { findControl } from '../../../src/report/explain/find-control.ts';
import { runDemo } from '../../support/demo.ts';

const demo = new Map(runDemo().map(({ name, built }) => [name, built.compiled]));

function compiledOf(device: string): NonNullable<ReturnType<typeof demo.get>> {
  const compiled = demo.get(device);
  if (compiled === undefined) throw new Error(`The demo has no ${device}.`);
  return compiled;
}

function told(device: string, reference: string): string {
  const compiled = compiledOf(device);
  const found = findControl(reference, compiled.resolved.device.controls);
  if (found.kind !== 'found') throw new Error(`${device} has no ${reference}: ${found.kind}.`);
  // Blanks that align the columns count as one.
  return controlLines(compiled, found.control).join('\n').replace(/ {2,}/g, ' ');
}

const cases: readonly (readonly [device: string, reference: string, lines: readonly string[]])[] = [
  [
    'fen',
    'X',
    [
      'north of Fen: labelled X; sends BTN_WEST on pad',
      ' pad is "Fen Reed Pad": bus 0019, vendor 0001, product 0f02, version 0100',
      ' SDL 2.26 with udev (harrow-hall, harrow-annex) button 3',
      ' position (sill) north',
      ' event code name (coble) BTN_WEST',
      ' kernel joystick interface button 3',
      ' W3C standard gamepad button 3',
      // BTN_WEST is 134 hexadecimal.
      ' event code number 308',
      ' harrow-hall, harrow-annex: hotkeys.bind.show-frame-rate, together with mode',
      ' harrow-hall, harrow-annex: pad.north, by itself',
    ],
  ],
  [
    'fen',
    'R2',
    [
      'trigger-right of Fen: labelled R2; sends BTN_TR2 and ABS_RZ+ on pad',
      ' SDL 2.26 with udev (harrow-hall, harrow-annex) button 7; axis 1, side +',
      ' harrow-hall, harrow-annex: hotkeys.bind.fast-forward, together with mode, as long as it is pressed',
    ],
  ],
  ['fen', 'Fn', [' harrow-hall, harrow-annex: hotkeys.hold, held while another is pressed']],
  [
    'fen',
    'power',
    [
      'power of Fen: no label given; sends KEY_POWER on keys',
      ' keys is "Fen Case Keys": bus 0019, vendor 0001, product 0f01, version 0100',
      ' the system: ends the game at once, together with select',
    ],
  ],
  [
    'tarn',
    'L2',
    [
      'trigger-left of Tarn: labelled L2; sends ABS_Z+ on pad',
      ' SDL 2.26 with udev (harrow-hall) axis 2, side +',
      ' W3C standard gamepad (withy) button 6',
      ' harrow-hall, withy: hotkeys.bind.rewind, together with mode, as long as it is pressed',
    ],
  ],
  [
    'tarn',
    'dpad-left',
    [' SDL 2.26 with udev (harrow-hall) hat 0, left', ' withy: hotkeys.bind.pause, together with select'],
  ],
  ['tarn', 'R3', [' withy: hotkeys.bind.change-disc, by itself']],
  [
    'mere',
    'dpad-up',
    [' SDL 2.26 with udev (harrow-hall) button 9', ' harrow-hall: hotkeys.bind.save-state, together with mode'],
  ],
  ['mere', '4', ['west of Mere: labelled 4; sends BTN_WEST on pad', ' used by: nothing']],
];

test.each(cases)('of %s, %s', (device, reference, lines) => {
  const text = told(device, reference).split('\n');
  for (const line of lines) expect(text).toContain(line);
});

describe.each([...demo.keys()])('every control of %s', (device) => {
  const { controls } = compiledOf(device).resolved.device;
  it.each([...controls.controls.values()].map((control) => [control.position, control] as const))(
    '%s is found by position and by label, with what it sends',
    (position, { label, sources }) => {
      const text = told(device, position);
      expect(text.startsWith(`${position} of `)).toBe(true);
      for (const { code, number } of sources) {
        expect(text).toContain(code);
        expect(text).toMatch(new RegExp(`event code number.* ${number}(;|$)`, 'm'));
      }
      if (label !== undefined) expect(told(device, label)).toBe(text);
    },
  );
});

describe('a control that is not there', () => {
  const { controls } = compiledOf('mere').resolved.device;
  it('is told from a word that is no control', () => {
    expect(findControl('trigger-left', controls)).toEqual({ kind: 'lacking' });
    expect(findControl('nroth', controls)).toEqual({ kind: 'unknown', nearest: ['north'] });
    expect(findControl('pick', controls)).toEqual({ kind: 'unknown', nearest: ['Pick'] });
  });

  it('is not guessed where a label stands on two', () => {
    const south = controls.controls.get('south');
    if (south === undefined) throw new Error('no south');
    const twice = new Map([...controls.controls, ['east', { ...south, position: 'east' }] as const]);
    expect(findControl('2', { ...controls, controls: twice })).toEqual({
      kind: 'several',
      positions: ['south', 'east'],
    });
  });
});
