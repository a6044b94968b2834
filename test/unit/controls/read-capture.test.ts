import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCapture } from '../../../src/controls/capture/read-capture.ts';
import { writeCapture } from '../../../src/controls/capture/write-capture.ts';
import { spellControlCode } from '../../../src/controls/control-code.ts';
import { readControls } from '../../../src/controls/read-controls.ts';
import { PressRecorder, procList } from '../../support/controls/press-recorder.ts';
import type { FakeInput } from '../../support/controls/press-recorder.ts';

const SOUTH = 0x130;
const EAST = 0x131;
const NORTH = 0x133;
const WEST = 0x134;
const pad: FakeInput = {
  event: 'event1',
  keys: [SOUTH, EAST, NORTH, WEST, 0x136, 0x137, 0x139, 0x13a, 0x13b, 0x13c],
  axes: [0x00, 0x01, 0x05, 0x10, 0x11],
};
const buttons: FakeInput = { event: 'event0', keys: [0x72, 0x73, 0x74] };

function capture(
  inputs: readonly FakeInput[],
  asked: readonly string[],
  recorder: PressRecorder,
  wordSize: 32 | 64 = 64,
) {
  const text = writeCapture({ wordSize, list: procList(inputs, wordSize), asked, events: recorder.events() });
  return read(text);
}

function read(text: string) {
  const { value, findings } = readCapture({ name: 'captures/fen.txt', text });
  const sends = Object.fromEntries(
    [...(value?.pressed ?? [])].map(([position, sources]) => [
      position,
      sources.map((source) => spellControlCode(source, value?.inputs ?? [])).join(' '),
    ]),
  );
  return { text, value, findings, sends, codes: findings.map(({ code }) => code) };
}

describe('readCapture', () => {
  it.each([64, 32] as const)(
    'joins what was pressed to the order, with %i-bit words: bounces, repeats, two inputs, hat, trigger, crossed wires',
    (wordSize) => {
      const recorder = new PressRecorder(wordSize)
        .key('event1', SOUTH, { bounces: 2 })
        .key('event1', EAST, { repeats: 5 })
        .key('event1', NORTH) // west, wired crosswise
        .key('event1', WEST)
        .hat('event1', 0x11, -1)
        .hat('event1', 0x11, 1)
        .axis('event1', 0x00, 128, 0)
        .axis('event1', 0x00, 128, 255)
        .axis('event1', 0x05, 0, 255)
        .key('event0', 0x73);
      const asked = [
        'south',
        'east',
        'west',
        'north',
        'dpad-up',
        'dpad-down',
        'stick-left-left',
        'stick-left-right',
        'trigger-right',
        'volume-up',
      ];
      const { sends, codes } = capture([buttons, pad], asked, recorder, wordSize);
      expect(codes).toEqual([]);
      expect(sends).toMatchObject({
        south: 'pad/BTN_SOUTH',
        east: 'pad/BTN_EAST',
        west: 'pad/BTN_NORTH',
        north: 'pad/BTN_WEST',
        'dpad-up': 'pad/ABS_HAT0Y-',
        'dpad-down': 'pad/ABS_HAT0Y+',
        'stick-left-left': 'pad/ABS_X-',
        'stick-left-right': 'pad/ABS_X+',
        'trigger-right': 'pad/ABS_RZ+',
        'volume-up': 'keys/KEY_VOLUMEUP',
      });
    },
  );

  it('takes a key and an axis that move together for one control', () => {
    const recorder = new PressRecorder(64)
      .send('event1', 3, 0x05, 90)
      .wait(30)
      .send('event1', 3, 0x05, 200)
      .wait(30)
      .send('event1', 1, 0x139, 1)
      .wait(80);
    recorder.send('event1', 1, 0x139, 0).send('event1', 3, 0x05, 0).wait(500).key('event1', SOUTH);
    expect(capture([pad], ['trigger-right', 'south'], recorder).sends).toEqual({
      'trigger-right': 'ABS_RZ+ BTN_TR2',
      south: 'BTN_SOUTH',
    });
  });

  it('says which to press again when one was missed, and places the rest', () => {
    const recorder = new PressRecorder(64)
      .key('event1', SOUTH)
      .key('event1', NORTH)
      .key('event1', WEST)
      .key('event1', 0x13a)
      .key('event1', 0x13b);
    const { sends, codes, value, findings } = capture(
      [pad],
      ['south', 'east', 'west', 'north', 'select', 'start', 'mode'],
      recorder,
    );
    // The neighbours of what was missed may be wired crosswise with it, so that they are asked for again too.
    expect(sends).toEqual({ start: 'BTN_START' });
    expect(codes).toEqual(['capture-press-again']);
    expect(value?.unplaced).toEqual(['south', 'east', 'west', 'north', 'select', 'mode']);
    expect(findings[0]?.wayOut).toContain('Press south, east, west, north, select, mode again');
  });

  it('passes over controls that the device lacks, and notes what was not asked for', () => {
    const recorder = new PressRecorder(64)
      .key('event1', SOUTH)
      .key('event1', EAST)
      .key('event1', 0x136)
      .key('event1', 0x13b);
    const { sends, codes } = capture([pad], ['south', 'thumb-left', 'east', 'start'], recorder);
    expect(sends).toEqual({ south: 'BTN_SOUTH', east: 'BTN_EAST', start: 'BTN_START' });
    expect(codes).toEqual(['capture-stray-press']);
  });

  it('does not guess when nothing tells where in the order a control was left out', () => {
    const odd: FakeInput = { event: 'event1', keys: [0x120, 0x121, 0x122, 0x123] };
    const recorder = new PressRecorder(64).key('event1', 0x122).key('event1', 0x121).key('event1', 0x120);
    const { value, codes } = capture([odd], ['south', 'east', 'west', 'north'], recorder);
    expect(codes).toEqual(['capture-press-again']);
    expect(value?.unplaced).toEqual(['south', 'east', 'west', 'north']);
    expect(capture([odd], ['south', 'east', 'west'], recorder).sends).toEqual({
      south: 'BTN_THUMB2',
      east: 'BTN_THUMB',
      west: 'BTN_TRIGGER',
    });
  });

  it('finds a pad that is split over two inputs, and one that a program merged', () => {
    const left: FakeInput = { event: 'event1', keys: [0x220, 0x221, 0x222, 0x223] };
    const right: FakeInput = { event: 'event2', keys: [SOUTH, EAST] };
    const split = capture(
      [left, right],
      ['dpad-up', 'south'],
      new PressRecorder(64).key('event1', 0x220).key('event2', SOUTH),
    );
    expect(split.codes).toEqual([]);
    expect(split.sends).toEqual({ 'dpad-up': 'pad/BTN_DPAD_UP', south: 'pad-2/BTN_SOUTH' });
    const merged: FakeInput = { event: 'event5', virtual: true, keys: [SOUTH, EAST, 0x220] };
    const made = capture(
      [left, right, merged],
      ['dpad-up', 'south'],
      new PressRecorder(64).key('event5', 0x220).key('event5', SOUTH),
    );
    expect(made.value?.inputs.map(({ name, keys }) => `${name} ${keys.length}`)).toEqual(['pad 3']);
  });

  it('takes the merged pad alone when a program lets its sources be heard too', () => {
    const left: FakeInput = { event: 'event1', keys: [0x220, 0x221] };
    const right: FakeInput = { event: 'event2', keys: [SOUTH, EAST], axes: [0x00, 0x01] };
    const merged: FakeInput = { event: 'event5', virtual: true, keys: [SOUTH, EAST, 0x220, 0x221], axes: [0x00, 0x01] };
    const recorder = new PressRecorder(64);
    // Both hear each press, the program's input 2 ms later; the source's bounces too.
    for (const [event, code] of [
      ['event1', 0x220],
      ['event2', SOUTH],
      ['event2', EAST],
    ] as const) {
      recorder.send(event, 1, code, 1).wait(2).send('event5', 1, code, 1).wait(9);
      recorder.send(event, 1, code, 0).wait(9).send(event, 1, code, 1).wait(150);
      recorder.send(event, 1, code, 0).wait(2).send('event5', 1, code, 0).wait(500);
    }
    const { sends, codes, value } = capture([left, right, merged], ['dpad-up', 'south', 'east'], recorder);
    expect(codes).toEqual([]);
    expect(value?.inputs.map(({ name, keys }) => `${name} ${keys.length}`)).toEqual(['pad 4']);
    expect(sends).toEqual({ 'dpad-up': 'BTN_DPAD_UP', south: 'BTN_SOUTH', east: 'BTN_EAST' });
    // A button that the program does not pass on makes the source a part of the pad.
    recorder.key('event2', 0x13a);
    const inputs = [left, { ...right, keys: [SOUTH, EAST, 0x13a] }, merged];
    const part = capture(inputs, ['dpad-up', 'south', 'east', 'select'], recorder);
    expect(part.value?.inputs.map(({ name }) => name)).toEqual(['pad', 'pad-2']);
    expect(part.sends['select']).toBe('pad-2/BTN_SELECT');
  });

  it('places volume, power and lid of three other inputs, pressed or by convention, and takes tilt for no pad', () => {
    const inputs: FakeInput[] = [
      { event: 'event0', keys: [0x74] },
      pad,
      { event: 'event2', keys: [0x72, 0x73] },
      { event: 'event3', switches: [0] },
      { event: 'event4', axes: [0, 1, 2, 3, 4, 5], prop: '40' },
      { event: 'event6', name: 'Beeper' },
    ];
    const recorder = new PressRecorder(64)
      .key('event1', SOUTH)
      .key('event2', 0x73)
      .key('event2', 0x72)
      .key('event0', 0x74)
      .send('event3', 5, 0, 1)
      .wait(400)
      .send('event3', 5, 0, 0);
    const asked = ['south', 'volume-up', 'volume-down', 'power', 'lid'];
    const tested = capture(inputs, asked, recorder);
    expect(tested.codes).toEqual([]);
    expect(tested.sends).toEqual({
      south: 'pad/BTN_SOUTH',
      'volume-up': 'keys-2/KEY_VOLUMEUP',
      'volume-down': 'keys-2/KEY_VOLUMEDOWN',
      power: 'keys/KEY_POWER',
      lid: 'lid/SW_LID',
    });
    const untested = capture(inputs, [], new PressRecorder(64));
    expect(untested.codes).toEqual([]);
    expect(untested.value?.inputs.map(({ name }) => name)).toEqual(['pad', 'keys', 'keys-2', 'lid']);
    const nowhere = { source: { name: 'test', text: '' }, span: { start: 0, end: 0 } };
    const { value } = readControls({}, { place: () => nowhere, keyPlace: () => nowhere }, untested.value);
    expect(
      (['volume-up', 'volume-down', 'power', 'lid'] as const).map((position) =>
        value.controls.get(position)?.sources.map(({ input, code }) => `${input}/${code}`),
      ),
    ).toEqual([['keys-2/KEY_VOLUMEUP'], ['keys-2/KEY_VOLUMEDOWN'], ['keys/KEY_POWER'], ['lid/SW_LID']]);
  });

  it('without a press test says that there are several pads, and names them', () => {
    const { codes, findings } = capture([pad, { ...pad, event: 'event2', name: 'Other' }], [], new PressRecorder(64));
    expect(codes).toEqual(['capture-several-pads']);
    expect(findings[0]?.detail).toContain('"Other" (line 15, called pad-2)');
  });

  const good = writeCapture({
    wordSize: 64,
    list: procList([pad], 64),
    asked: ['south'],
    events: new PressRecorder(64).key('event1', SOUTH).events(),
  });

  it.each([
    [
      'a list of another machine',
      good.replace(/B: (KEY|ABS)=.*/g, 'B: KEY=3ffff'),
      'capture-no-pad',
      'Run fetch on the handheld',
      3,
    ],
    [
      'the wrong word size',
      good.replace('word-size: 64', 'word-size: 32'),
      'capture-bitmap-unreadable',
      'word-size: 64',
      12,
    ],
    [
      'no word size',
      good.replace(/word-size: 64\n/, '').replace(/KEY=.*/, 'KEY=7cdb0000 0 0 0 0 0 0 0 0 0'),
      'capture-word-size',
      'getconf LONG_BIT',
      2,
    ],
    [
      'a stray character in a bitmap',
      good.replace('KEY=', 'KEY=x'),
      'capture-bitmap-unreadable',
      'Paste the line anew',
      12,
    ],
    [
      'a line that is none of the list',
      good.replace('P: Phys=', 'hello'),
      'capture-line-unreadable',
      'Paste the text',
      6,
    ],
    ['an unknown head', good.replace('word-size: 64', 'wordsize: 64'), 'capture-line-unreadable', 'word-size', 2],
    ['an unknown section', good.replace('== press-test', '== test'), 'capture-line-unreadable', '== press-test', 15],
    ['no head', good.replace('capture: 1\n', ''), 'capture-line-unreadable', 'starts so', 1],
    [
      'event bytes cut in the middle',
      `${good
        .trimEnd()
        .replace(/ #[^\n]*$/, '')
        .slice(0, -6)}\n`,
      'capture-events-cut',
      'press test again',
      21,
    ],
    [
      'event bytes that are not hexadecimal',
      good.replace(/\n[0-9a-f]{6}(?=[0-9a-f]{42} # BTN_SOUTH 1)/, '\nzzzzzz'),
      'capture-events-cut',
      'press test',
      18,
    ],
    [
      'an event that the input cannot send',
      good.replaceAll('3001', '3101').replace(/KEY=.*/, 'KEY=1000000000000 0 0 0 0'),
      'capture-other-device',
      'one run of fetch',
      18,
    ],
    [
      'events of an input that is not there',
      good.replace('== events event1', '== events event9'),
      'capture-other-device',
      'one run of fetch',
      17,
    ],
    ['an unknown position', good.replace('\nsouth\n', '\nsuoth\n'), 'unknown-position', 'south', 16],
  ])('says what is wrong with %s, and where', (_, text, code, wayOut, line) => {
    const { findings } = read(text);
    const [found] = findings;
    expect(findings.map((finding) => finding.code)).toContain(code);
    expect(found?.code).toBe(code);
    expect(found?.wayOut).toContain(wayOut);
    expect(text.slice(0, found?.place?.span.start).split('\n')).toHaveLength(line);
  });

  it('reads a capture with comments, CRLF and no press test', () => {
    const text = [
      'capture: 1 # by hand',
      'word-size: 64',
      '== inputs',
      procList([pad], 64),
      '== axes event1',
      'ABS_X -1800 1800 32 32 0 # stick',
    ]
      .join('\n')
      .replaceAll('\n', '\r\n');
    const { value, findings } = read(text);
    expect(findings).toEqual([]);
    expect(value?.inputs[0]?.axes[0]).toEqual({
      code: 'ABS_X',
      number: 0,
      minimum: -1800,
      maximum: 1800,
      fuzz: 32,
      flat: 32,
      resolution: 0,
    });
  });
});

describe('a press test with controls left out', () => {
  const order = [
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
    'trigger-left',
    'trigger-right',
    'select',
    'start',
    'mode',
  ] as const;
  const codeOf: Readonly<Record<(typeof order)[number], number>> = {
    south: 0x130,
    east: 0x131,
    west: 0x134,
    north: 0x133,
    'dpad-up': 0x220,
    'dpad-down': 0x221,
    'dpad-left': 0x222,
    'dpad-right': 0x223,
    'shoulder-left': 0x136,
    'shoulder-right': 0x137,
    'trigger-left': 0x138,
    'trigger-right': 0x139,
    select: 0x13a,
    start: 0x13b,
    mode: 0x13c,
  };
  const full: FakeInput = { event: 'event1', keys: Object.values(codeOf) };

  it('never places a control wrongly: each is right, or to be pressed again', () => {
    fc.assert(
      fc.property(
        fc.subarray([...order]),
        fc.constantFrom('straight', 'west and north', 'shoulders and triggers'),
        fc.nat(3),
        (pressed, wires, bounces) => {
          const wired = (position: (typeof order)[number]): number => {
            if (wires === 'west and north')
              return codeOf[position === 'west' ? 'north' : position === 'north' ? 'west' : position];
            if (wires === 'shoulders and triggers')
              return codeOf[
                position === 'shoulder-left' ? 'trigger-left' : position === 'trigger-left' ? 'shoulder-left' : position
              ];
            return codeOf[position];
          };
          const recorder = new PressRecorder(64);
          for (const position of pressed) recorder.key('event1', wired(position), { bounces });
          const { value } = capture([full], order, recorder);
          for (const position of order) {
            const sent = value?.pressed.get(position)?.map(({ number }) => number);
            if (sent === undefined) expect(value?.unplaced).toContain(position);
            else expect(pressed.includes(position) ? sent : 'not pressed').toEqual([wired(position)]);
          }
          if (pressed.length === order.length) expect(value?.unplaced).toEqual([]);
        },
      ),
      { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) },
    );
  });
});
