import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lens, Spelled } from '../../src/dialect/contract.ts';
import type { Value } from '../../src/model/value.ts';
import type { SyntaxValue } from '../../src/syntax/contract.ts';
import type { ControlsWritten, EntryWritten, NumberWritten } from '../../src/vocabulary/shapes/dialect.ts';
import type { Position } from '../../src/vocabulary/positions.ts';
import { lensOf, lookIn, written } from '../support/dialect/lens-of-entry.ts';
import type { Held } from '../support/dialect/lens-of-entry.ts';

/** The laws of codecs (architecture.md): spell then read gives the value, read then spell changes nothing. */
const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const check = { numRuns: runs };

const scalar = (text: string): SyntaxValue => ({ kind: 'scalar', text });

/** Read back without a hint: the value itself (`same` where several values are one thing), and with it as the hint: itself. */
function readsBack(
  lens: Lens,
  setting: string,
  value: Value,
  spelled: Spelled,
  same: (a: Value, b: Value) => boolean,
): void {
  const look = lookIn(written(spelled));
  const read = lens.read(setting, {}, look);
  expect(read.kind === 'value' && same(read.value, value) ? 'same' : read).toBe('same');
  expect(lens.read(setting, {}, look, value)).toEqual({ kind: 'value', value });
}

/** What is read from any text is spelled so that nothing changes: by `equal`, a program's own reading of two texts. */
function changesNothing(
  lens: Lens,
  setting: string,
  held: Held,
  equal: (a: SyntaxValue, b: SyntaxValue) => boolean,
): boolean {
  const read = lens.read(setting, {}, lookIn(held));
  if (read.kind !== 'value') return false;
  const after = written(lens.spell(setting, read.value, {}), held);
  expect([...after.keys()].sort()).toEqual([...held.keys()].sort());
  for (const [key, value] of held) expect(equal(value, after.get(key) ?? scalar('(gone)'))).toBe(true);
  // The value read is the one that these keys stand for, whoever asks.
  expect(lens.read(setting, {}, lookIn(held), read.value)).toEqual(read);
  return true;
}

const sameContent = (a: Value, b: Value): boolean => JSON.stringify(a) === JSON.stringify(b);
const sameText = (a: SyntaxValue, b: SyntaxValue): boolean => JSON.stringify(a) === JSON.stringify(b);
const line = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 });

describe('values', () => {
  const words = ['same', 'next', 'ring'] as const;
  const maps = fc
    .tuple(
      fc.subarray([...words], { minLength: 1 }),
      fc.uniqueArray(line, { minLength: 9, maxLength: 9 }),
      fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 3, maxLength: 3 }),
    )
    .map(([chosen, texts, counts]) =>
      Object.fromEntries(chosen.map((word, at) => [word, texts.slice(at * 3, at * 3 + (counts[at] ?? 1))])),
    );

  it('spells the first text, and reads every text of the value', () => {
    fc.assert(
      fc.property(maps, fc.constantFrom(...words), (values, word) => {
        const lens = lensOf({ 'saves.state-slots.order': { file: 'main', key: 'turn', values } });
        const value: Value = { kind: 'word', word };
        const spelled = lens.spell('saves.state-slots.order', value, {});
        const texts = values[word];
        if (texts === undefined) {
          expect(spelled).toMatchObject({ kind: 'cannot', code: 'value-not-learnt' });
          return;
        }
        expect(spelled).toMatchObject({ kind: 'exact', writes: [{ key: 'turn', value: scalar(texts[0] ?? '') }] });
        readsBack(lens, 'saves.state-slots.order', value, spelled, sameContent);
        for (const text of texts)
          expect(lens.read('saves.state-slots.order', {}, lookIn(new Map([['turn', scalar(text)]])))).toEqual({
            kind: 'value',
            value,
          });
      }),
      check,
    );
  });

  it('reads nothing into other texts', () => {
    fc.assert(
      fc.property(
        maps,
        fc.oneof(
          line,
          maps.map((m) => Object.values(m)[0]?.[0] ?? ''),
        ),
        (values, text) => {
          const lens = lensOf({ 'saves.state-slots.order': { file: 'main', key: 'turn', values } });
          const owner = Object.entries(values).find(([, texts]) => texts.includes(text))?.[0];
          const known = changesNothing(lens, 'saves.state-slots.order', new Map([['turn', scalar(text)]]), (a, b) => {
            const means = (held: SyntaxValue): string | undefined =>
              Object.entries(values).find(([, texts]) => held.kind === 'scalar' && texts.includes(held.text))?.[0];
            return means(a) === means(b);
          });
          expect(known).toBe(owner !== undefined);
        },
      ),
      check,
    );
  });

  it('takes amounts, however the dialect writes them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3000 }), fc.constantFrom('ms', 's', 'min'), line, (count, unit, text) => {
        const factor = { ms: 1, s: 1000, min: 60_000 }[unit];
        const lens = lensOf({
          'saves.write-save-every': {
            file: 'main',
            key: 'flush',
            values: { [`${count} ${unit}`]: text, never: `${text}x` },
          },
        });
        const value: Value = { kind: 'quantity', measure: 'time', amount: count * factor };
        readsBack(lens, 'saves.write-save-every', value, lens.spell('saves.write-save-every', value, {}), sameContent);
      }),
      check,
    );
  });
});

describe('number', () => {
  /** Base units in one of the file's: from memory, the SI and IEC 80000-13 prefixes; a frame at 50 or 60 a second. */
  const cases = [
    { setting: 'saves.write-save-every', measure: 'time', unit: 'ms', factor: 1, word: 'never' },
    { setting: 'saves.write-save-every', measure: 'time', unit: 's', factor: 1000, word: 'never' },
    { setting: 'saves.write-save-every', measure: 'time', unit: 'min', factor: 60_000, word: 'never' },
    { setting: 'sound.latency', measure: 'time', unit: 'us', factor: 0.001 },
    { setting: 'sound.latency', measure: 'time', unit: 'frames', rate: 60, factor: 1000 / 60 },
    { setting: 'sound.latency', measure: 'time', unit: 'frames', rate: 50, factor: 20 },
    { setting: 'speed.rewind.memory', measure: 'size', unit: 'MiB', factor: 1024 * 1024 },
    { setting: 'speed.rewind.memory', measure: 'size', unit: 'kB', factor: 1000 },
    { setting: 'speed.fast-forward-limit', measure: 'multiplier', unit: 'x', factor: 1, word: 'none' },
    { setting: 'speed.fast-forward-limit', measure: 'multiplier', unit: '%', factor: 0.01, word: 'none' },
    { setting: 'sound.volume-limit', measure: 'percent', unit: '%', factor: 1 },
    { setting: 'artwork.request-limit', measure: 'rate', unit: '/day', factor: 1 },
    { setting: 'artwork.request-limit', measure: 'rate', unit: '/ hour', factor: 24 },
  ] as const;
  type Case = (typeof cases)[number];

  const specs = fc.record({
    of: fc.constantFrom<Case>(...cases),
    scale: fc.constantFrom(undefined, 0.1, 10, 0.001, 2, -1),
    offset: fc.constantFrom(undefined, 1, -5, 0.5),
    grid: fc.oneof(
      fc.constantFrom<Partial<NumberWritten>>(
        {},
        { step: 0 },
        { step: 0.5 },
        { step: 5 },
        { step: 100 },
        { decimals: 2 },
        { decimals: 0 },
        { step: 0.25, decimals: 2 },
      ),
      fc
        .uniqueArray(fc.integer({ min: -50, max: 5000 }), { minLength: 1, maxLength: 6 })
        .map((steps): Partial<NumberWritten> => ({ steps })),
    ),
    bounds: fc.constantFrom<Partial<NumberWritten>>({}, { min: 0 }, { max: 1000 }, { min: 10, max: 500 }),
    word: fc.constantFrom(undefined, '0', '-1', 'off', '10'),
  });
  type Spec = typeof specs extends fc.Arbitrary<infer T> ? T : never;
  const numberOf = ({ of, scale, offset, grid, bounds, word }: Spec): NumberWritten => ({
    unit: of.unit,
    ...('rate' in of ? { rate: of.rate } : {}),
    ...(scale === undefined ? {} : { scale }),
    ...(offset === undefined ? {} : { offset }),
    ...grid,
    ...bounds,
    ...('word' in of && word !== undefined ? { words: { [of.word]: word } } : {}),
  });
  const amounts = fc.oneof(
    fc.integer({ min: 0, max: 100 }),
    fc.integer({ min: 0, max: 10_000_000 }),
    fc.integer({ min: 0, max: 10_000_000 }).map((n) => n / 1000),
  );
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-8 * Math.max(1, Math.abs(a), Math.abs(b));
  const units: Readonly<Record<string, number>> = {
    ms: 1,
    s: 1000,
    min: 60_000,
    h: 3_600_000,
    B: 1,
    kB: 1e3,
    KiB: 1024,
    MB: 1e6,
    MiB: 1024 ** 2,
    GB: 1e9,
    GiB: 1024 ** 3,
    TB: 1e12,
    TiB: 1024 ** 4,
    x: 1,
    '%': 1,
    '/ day': 1,
  };
  /** 'becomes 10 s, 0.5 s less' in base units: the amount and how far it is. */
  const told = (how: string): readonly [number, number] | undefined => {
    const match = /^becomes (-?[0-9.]+) ([^,]+), ([0-9.]+) (.+) (less|more)$/.exec(how);
    if (match === null) return undefined;
    return [
      Number(match[1]) * (units[match[2] ?? ''] ?? NaN),
      Number(match[3]) * (units[match[4] ?? ''] ?? NaN) * (match[5] === 'less' ? -1 : 1),
    ];
  };

  it('gives the amount back, or says which amount it becomes and how far that is', () => {
    fc.assert(
      fc.property(specs, amounts, (spec, amount) => {
        const { of, scale = 1, offset = 0 } = spec;
        const number = numberOf(spec);
        const lens = lensOf({ [of.setting]: { file: 'main', key: 'amount', number } });
        const value: Value = { kind: 'quantity', measure: of.measure, amount };
        const spelled = lens.spell(of.setting, value, {});
        if (spelled.kind === 'cannot') {
          // Only where every number that the frontend takes is taken by a word, or none is within the bounds.
          expect(spelled.why).toMatch(/free/);
          return;
        }
        const [write] = spelled.writes;
        const text = write?.value?.kind === 'scalar' ? write.value.text : '';
        expect(text).toMatch(/^-?[0-9]+(\.[0-9]+)?$/);
        // A number of the file that a word has taken is never written for an amount.
        for (const word of Object.values(number.words ?? {})) expect(Number(text)).not.toBe(Number(word));
        const becomes = ((Number(text) - offset) / scale) * of.factor;
        if (spelled.kind === 'exact') {
          expect(near(becomes, amount)).toBe(true);
          const inBounds =
            of.setting === 'speed.fast-forward-limit'
              ? amount >= 1
              : of.setting === 'artwork.request-limit'
                ? amount >= 1
                : of.setting !== 'sound.volume-limit' || amount <= 100;
          if (inBounds)
            readsBack(
              lens,
              of.setting,
              value,
              spelled,
              (a, b) => a.kind === 'quantity' && b.kind === 'quantity' && near(a.amount, b.amount),
            );
        } else {
          const [says, far] = told(spelled.how) ?? [NaN, NaN];
          expect(Math.abs(says - becomes)).toBeLessThanOrEqual(1e-5 * Math.max(1, Math.abs(becomes)));
          expect(Math.abs(far - (becomes - amount))).toBeLessThanOrEqual(
            1e-5 * Math.max(1, Math.abs(becomes - amount)),
          );
          expect(lens.read(of.setting, {}, lookIn(written(spelled)), value)).toEqual({ kind: 'value', value });
        }
        // Nothing nearer would have done.
        const wanted = (amount / of.factor) * scale + offset;
        const taken = new Set(Object.values(number.words ?? {}).map(Number));
        const within = (n: number): boolean => n >= (number.min ?? -Infinity) && n <= (number.max ?? Infinity);
        const step = number.step ?? (number.decimals === undefined ? 1 : 10 ** -number.decimals);
        const choices =
          number.steps ?? (step === 0 ? [] : [-2, -1, 0, 1, 2].map((k) => (Math.round(wanted / step) + k) * step));
        for (const choice of choices) {
          if (taken.has(choice) || !within(choice)) continue;
          expect(Math.abs(Number(text) - wanted)).toBeLessThanOrEqual(
            Math.abs(choice - wanted) + 1e-6 * Math.max(1, Math.abs(wanted)),
          );
        }
      }),
      check,
    );
  });

  it('changes no number that it can read, whatever its spelling', () => {
    const texts = fc.oneof(
      fc.integer({ min: -100, max: 20_000 }).map(String),
      fc.integer({ min: -100, max: 20_000 }).map((n) => `${n}.000`),
      fc.integer({ min: 0, max: 20_000 }).map((n) => `0${n}`),
      fc.integer({ min: 0, max: 200_000 }).map((n) => String(n / 100)),
      fc.constantFrom('off', '1e3', '+5', ' 7 ', '.5', '5.', '', 'x', '0x10', 'NaN', 'Infinity', '--1', '1 2'),
    );
    fc.assert(
      fc.property(specs, texts, (spec, text) => {
        const lens = lensOf({ [spec.of.setting]: { file: 'main', key: 'amount', number: numberOf(spec) } });
        changesNothing(
          lens,
          spec.of.setting,
          new Map([['amount', scalar(text)]]),
          (a, b) =>
            a.kind === 'scalar' && b.kind === 'scalar' && (a.text === b.text || Number(a.text) === Number(b.text)),
        );
      }),
      check,
    );
  });

  it('keeps words apart from numbers', () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const number = numberOf(spec);
        const word = Object.keys(number.words ?? {})[0];
        if (word === undefined) return;
        const lens = lensOf({ [spec.of.setting]: { file: 'main', key: 'amount', number } });
        const value: Value = { kind: 'word', word };
        readsBack(lens, spec.of.setting, value, lens.spell(spec.of.setting, value, {}), sameContent);
      }),
      check,
    );
  });
});

describe('text', () => {
  const around = fc
    .tuple(fc.string({ maxLength: 4 }), fc.string({ maxLength: 4 }))
    .filter(([a, b]) => !/[{}\\]/.test(a + b));

  it('gives back every text, whatever stands around it', () => {
    fc.assert(
      fc.property(
        around,
        fc.constantFrom(1, 2),
        fc.string({ unit: 'binary', maxLength: 30 }),
        ([before, after], times, text) => {
          const lens = lensOf({
            'menus.theme': { file: 'main', key: 'look', text: `${before}${'{{value}}'.repeat(times)}${after}` },
          });
          const value: Value = { kind: 'text', text };
          const spelled = lens.spell('menus.theme', value, {});
          expect(spelled).toMatchObject({
            kind: 'exact',
            writes: [{ value: scalar(before + text.repeat(times) + after) }],
          });
          readsBack(lens, 'menus.theme', value, spelled, sameContent);
        },
      ),
      check,
    );
  });

  it('changes no text that it can read', () => {
    fc.assert(
      fc.property(
        around,
        fc.string({ unit: 'grapheme', maxLength: 20 }),
        fc.boolean(),
        ([before, after], text, framed) => {
          const lens = lensOf({ 'menus.theme': { file: 'main', key: 'look', text: `${before}{{value}}${after}` } });
          const held = framed ? before + text + after : text;
          const fits = held.length >= before.length + after.length && held.startsWith(before) && held.endsWith(after);
          expect(changesNothing(lens, 'menus.theme', new Map([['look', scalar(held)]]), sameText)).toBe(fits);
        },
      ),
      check,
    );
  });

  it('names secrets, and shows none', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[a-z][a-z0-9-]{0,10}$/), fc.string({ minLength: 1 }), (name, typed) => {
        const lens = lensOf({ 'achievements.password': { file: 'main', key: 'word', text: '{{value}}' } });
        const value: Value = { kind: 'secret', name };
        const spelled = lens.spell('achievements.password', value, {});
        expect(spelled).toMatchObject({ writes: [{ value: scalar(`<secret:${name}>`) }] });
        readsBack(lens, 'achievements.password', value, spelled, sameContent);
        const read = lens.read('achievements.password', {}, lookIn(new Map([['word', scalar(typed)]])), value);
        expect(read).toEqual({ kind: 'unreadable', keys: [{ file: 'main', key: 'word', text: '(hidden)' }] });
      }),
      check,
    );
  });

  it('tells every core from every other, on every instance', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('{{core.id}}', '{{core.name}}', '{{instance.name}}:{{core.id}}', '{{instance.bits}}-{{value}}'),
        fc.constantFrom('harrow-hall', 'harrow-annex'),
        fc.constantFrom('dunnock', 'thrush', 'siskin'),
        (text, instance, core) => {
          const lens = lensOf({ 'cores.choice': { file: 'main', key: '{{system.folder}}.engine', text } });
          const value: Value = { kind: 'core', instance, core };
          const at = { system: 'burdock' };
          const spelled = lens.spell('cores.choice', value, at);
          const look = lookIn(written(spelled));
          const read = lens.read('cores.choice', at, look);
          const told = text.includes('instance');
          expect(read).toEqual({ kind: 'value', value: told ? value : { ...value, instance: 'harrow-hall' } });
          expect(lens.read('cores.choice', at, look, value)).toEqual({ kind: 'value', value });
        },
      ),
      check,
    );
  });
});

describe('path', () => {
  const member = fc.stringMatching(/^[A-Za-z0-9 _.-]{1,8}$/).filter((text) => text !== '.' && text !== '..');
  const folder = fc.array(member, { maxLength: 4 }).map((members) => members.join('/'));

  it('gives back every folder of a mounted part', () => {
    fc.assert(
      fc.property(fc.constantFrom('games', 'settings', 'loose'), folder, fc.boolean(), (part, inside, trailing) => {
        const lens = lensOf({
          'saves.save-folder': { file: 'main', key: 'shelf', path: trailing ? { trailing } : {} },
        });
        const value: Value = { kind: 'place', part, folder: inside };
        const spelled = lens.spell('saves.save-folder', value, {});
        if (part === 'loose') expect(spelled).toMatchObject({ kind: 'cannot', code: 'part-not-mounted' });
        else readsBack(lens, 'saves.save-folder', value, spelled, sameContent);
      }),
      check,
    );
  });

  it('changes no folder that it can read', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('/media/games', '/media/game', '/media/games2', '/opt/sedge', '/', '', 'media'),
        folder,
        fc.constantFrom('', '/'),
        (root, inside, end) => {
          const lens = lensOf({ 'saves.save-folder': { file: 'main', key: 'shelf', path: {} } });
          const text = `${root}/${inside}${end}`;
          const cut = (held: SyntaxValue): string => (held.kind === 'scalar' ? held.text.replace(/\/+$/, '') : '');
          const known = changesNothing(
            lens,
            'saves.save-folder',
            new Map([['shelf', scalar(text)]]),
            (a, b) => cut(a) === cut(b),
          );
          expect(known).toBe(root === '/media/games' || root === '/opt/sedge');
        },
      ),
      check,
    );
  });
});

const pads: readonly Position[] = [
  'south',
  'east',
  'north',
  'west',
  'shoulder-left',
  'shoulder-right',
  'trigger-right',
  'trigger-left',
  'select',
  'start',
  'mode',
  'dpad-up',
  'dpad-down',
  'dpad-left',
  'dpad-right',
];

const sections = fc
  .record(
    {
      numbering: fc.constantFrom<NonNullable<ControlsWritten['numbering']>>(
        { order: 'sdl', version: '2.28.5', udev: true },
        'kernel-joystick',
        'name',
        'position',
        'code',
      ),
      prefer: fc.shuffledSubarray(['button', 'axis', 'hat'] as const),
      hold: fc.constantFrom('global', 'each', 'none'),
      nothing: fc.constantFrom('-', 'nul', ''),
      axis: fc.constant('axis{{axis}}.{{side}}'),
      hat: fc.constant('hat{{hat}}.{{direction}}'),
      chord: fc.constantFrom(
        { join: '+' },
        { join: ' & ', order: 'hold-last' } as const,
        { join: ',', order: 'sorted' } as const,
      ),
    },
    { requiredKeys: ['numbering', 'hold'] },
  )
  .map((section): ControlsWritten => ({
    ...section,
    button:
      section.numbering === 'name' || section.numbering === 'code' || section.numbering === 'position'
        ? '{{value}}'
        : 'b{{index}}',
  }));

const presses = fc.oneof(
  fc.constantFrom(...pads).map((position) => ({ kind: 'with-hold', position }) as const),
  fc.constantFrom(...pads).map((position) => ({ kind: 'alone', position }) as const),
  fc
    .uniqueArray(fc.constantFrom(...pads), { minLength: 2, maxLength: 3 })
    .map((positions) => ({ kind: 'chord', positions }) as const),
);

/** Controls that send the same thing under this numbering cannot be told apart; of a chord the order may be lost. */
function samePress(a: Value, b: Value): boolean {
  const flat = (value: Value): string => {
    if (value.kind !== 'press') return JSON.stringify(value);
    const { press } = value;
    const all =
      press.kind === 'chord'
        ? [...press.positions].sort()
        : press.kind === 'with-hold'
          ? ['mode', press.position].sort()
          : [press.position];
    return JSON.stringify([[...new Set(all)], value.while]);
  };
  return flat(a) === flat(b);
}

function withoutChord(controls: ControlsWritten): ControlsWritten {
  return Object.fromEntries(Object.entries(controls).filter(([name]) => name !== 'chord'));
}

const keyMaps = fc.constantFrom<NonNullable<EntryWritten['key']>>(
  'pull',
  { button: 'pull', axis: 'tilt' },
  { button: 'pull', axis: 'tilt', hat: 'nudge' },
  { held: 'pull', toggled: 'turn' },
  { held: { button: 'pull', axis: 'tilt' }, toggled: { button: 'turn' } },
  { held: 'pull' },
);

describe('control', () => {
  it('gives back every hotkey that it can say, in every form, and says why for the others', () => {
    fc.assert(
      fc.property(sections, keyMaps, presses, fc.constantFrom('held', 'toggled'), (controls, key, press, manner) => {
        // By name, both ways of an axis have one name, so only `side` tells them apart.
        const told =
          controls.numbering === 'name' || controls.numbering === 'code'
            ? { ...controls, button: '{{value}}{{#if side}}{{side}}{{/if}}' }
            : controls;
        const lens = lensOf({ 'hotkeys.bind.fast-forward': { file: 'main', key, control: {} } }, told);
        const value: Value = { kind: 'press', press, while: manner };
        const spelled = lens.spell('hotkeys.bind.fast-forward', value, {});
        if (spelled.kind === 'cannot') {
          expect(spelled.why.length).toBeGreaterThan(10);
          return;
        }
        const look = lookIn(written(spelled));
        expect(lens.read('hotkeys.bind.fast-forward', {}, look, value)).toEqual({ kind: 'value', value });
        const read = lens.read('hotkeys.bind.fast-forward', {}, look);
        const whiled = spelled.kind === 'exact';
        expect(
          read.kind === 'value' && samePress(read.value, whiled ? value : { ...value, while: 'held' }) ? 'same' : read,
        ).toBe('same');
        // Exactly one key of the map is in use.
        const inUse = spelled.writes.filter(
          (write) => write.value?.kind === 'scalar' && write.value.text !== controls.nothing,
        );
        expect(inUse.length).toBe(1);
      }),
      check,
    );
  });

  it('unbinds every key of the map', () => {
    fc.assert(
      fc.property(sections, keyMaps, (controls, key) => {
        const lens = lensOf({ 'hotkeys.bind.fast-forward': { file: 'main', key, control: {} } }, controls);
        const spelled = lens.spell('hotkeys.bind.fast-forward', { kind: 'none' }, {});
        const held = written(
          spelled,
          new Map([
            ['pull', scalar('b1')],
            ['tilt', scalar('b1')],
            ['turn', scalar('b1')],
            ['nudge', scalar('b1')],
          ]),
        );
        if (spelled.kind === 'cannot') throw new Error(spelled.why);
        for (const { key: name } of spelled.writes)
          expect(held.get(name)).toEqual(controls.nothing === undefined ? undefined : scalar(controls.nothing));
        expect(lens.read('hotkeys.bind.fast-forward', {}, lookIn(held), { kind: 'none' })).toEqual({
          kind: 'value',
          value: { kind: 'none' },
        });
        if (controls.nothing !== undefined)
          expect(lens.read('hotkeys.bind.fast-forward', {}, lookIn(written(spelled)))).toEqual({
            kind: 'value',
            value: { kind: 'none' },
          });
      }),
      check,
    );
  });

  it('changes no control that it can read', () => {
    const texts = fc.oneof(
      fc.integer({ min: 0, max: 20 }).map((n) => `b${n}`),
      fc.constantFrom(
        '-',
        'nul',
        '',
        'axis2.+',
        'axis2.-',
        'axis3.+',
        'hat0.up',
        'hat0.left',
        'hat1.up',
        'BTN_SOUTH',
        'ABS_Z',
        'south',
        'b4+b10',
        'b10 & b3',
        'b10,b9',
        'b1+b1',
      ),
    );
    fc.assert(
      fc.property(
        sections,
        keyMaps,
        fc.array(texts, { minLength: 4, maxLength: 4 }),
        (controls, key, [pull, tilt, turn, nudge]) => {
          const lens = lensOf({ 'hotkeys.bind.fast-forward': { file: 'main', key, control: {} } }, controls);
          const used = JSON.stringify(key);
          const held = new Map(
            [
              ['pull', pull],
              ['tilt', tilt],
              ['turn', turn],
              ['nudge', nudge],
            ]
              .filter(([name]) => used.includes(`"${name ?? ''}"`))
              .map(([name = '', text = '']) => [name, scalar(text)]),
          );
          const read = lens.read('hotkeys.bind.fast-forward', {}, lookIn(held));
          if (read.kind !== 'value') return;
          // Another form of one control means the same to the frontend, so what it spells is read as the same value.
          const after = written(lens.spell('hotkeys.bind.fast-forward', read.value, {}), held);
          const again = lens.read('hotkeys.bind.fast-forward', {}, lookIn(after));
          expect(again.kind === 'value' && samePress(again.value, read.value)).toBe(true);
          expect(lens.read('hotkeys.bind.fast-forward', {}, lookIn(held), read.value)).toEqual(read);
        },
      ),
      check,
    );
  });
});

describe('chord', () => {
  const joins = fc.constantFrom(undefined, '+', ', ', ' ', ' and ');
  const orders = fc.constantFrom('pressed', 'sorted', 'hold-first', 'hold-last');

  it('gives back every hotkey that it can say', () => {
    fc.assert(
      fc.property(sections, joins, orders, presses, (controls, join, order, press) => {
        const told = {
          ...controls,
          button:
            controls.numbering === 'name' || controls.numbering === 'code'
              ? '{{value}}{{#if side}}{{side}}{{/if}}'
              : (controls.button ?? ''),
        };
        const rest = withoutChord(told);
        const lens = lensOf(
          {
            'hotkeys.bind.screenshot': {
              file: 'native',
              key: 'back',
              chord: { ...(join === undefined ? {} : { join }), order },
            },
          },
          rest,
        );
        const value: Value = { kind: 'press', press, while: 'press' };
        const type = lens.spell('hotkeys.bind.screenshot', value, {});
        if (type.kind === 'cannot') {
          expect(controls.hold === 'global' || type.code === 'no-such-control-form').toBe(true);
          return;
        }
        const look = lookIn(written(type));
        expect(lens.read('hotkeys.bind.screenshot', {}, look, value)).toEqual({ kind: 'value', value });
        const read = lens.read('hotkeys.bind.screenshot', {}, look);
        expect(read.kind === 'value' && samePress(read.value, value) ? 'same' : [read, type]).toBe('same');
      }),
      check,
    );
  });

  it('changes no chord that it can read', () => {
    fc.assert(
      fc.property(
        sections,
        joins,
        orders,
        fc.array(fc.constantFrom('b0', 'b1', 'b8', 'b10', 'hat0.up', 'axis2.+', 'zz', ''), { maxLength: 4 }),
        (controls, join, order, texts) => {
          const rest = withoutChord(controls);
          const lens = lensOf(
            {
              'hotkeys.bind.screenshot': {
                file: 'native',
                key: 'back',
                chord: { ...(join === undefined ? {} : { join }), order },
              },
            },
            rest,
          );
          const held: SyntaxValue =
            join === undefined ? { kind: 'list', items: texts.map((text) => ({ text })) } : scalar(texts.join(join));
          const items = (value: SyntaxValue): string =>
            JSON.stringify(
              (value.kind === 'list'
                ? value.items.map((item) => item.text)
                : value.text.split(join ?? '\u0000')
              ).sort(),
            );
          const known = lens.read('hotkeys.bind.screenshot', {}, lookIn(new Map([['back', held]])));
          if (known.kind !== 'value' || known.value.kind === 'none') return;
          const spelled = lens.spell('hotkeys.bind.screenshot', known.value, {});
          const after = written(spelled).get('back');
          const again = lens.read('hotkeys.bind.screenshot', {}, lookIn(written(spelled)));
          expect(again.kind === 'value' && samePress(again.value, known.value)).toBe(true);
          // The frontend reads the same controls, though perhaps in another form of one of them.
          expect(after === undefined ? '' : items(after).split(',').length).toBe(items(held).split(',').length);
        },
      ),
      check,
    );
  });
});

describe('list', () => {
  const separators = fc.constantFrom(undefined, ',', ', ', ' ', ';', '|', ' / ');
  const spec = fc
    .record({ separator: separators, empty: fc.constantFrom(undefined, '-', '(none)') })
    .map(({ separator, empty }) => ({
      ...(separator === undefined ? {} : { separator }),
      ...(empty === undefined ? {} : { empty }),
    }));
  const item = fc.oneof(fc.constantFrom('en', 'de', 'pt-BR', 'fr'), fc.string({ maxLength: 5 }));

  it('gives back every list that it can carry, and carries no other', () => {
    fc.assert(
      fc.property(spec, fc.array(item, { maxLength: 4 }), (list, texts) => {
        const lens = lensOf({ 'artwork.languages': { file: 'native', key: 'tongues', list } });
        const value: Value = { kind: 'texts', texts };
        const spelled = lens.spell('artwork.languages', value, {});
        if (spelled.kind === 'cannot') {
          expect(list.separator).toBeDefined();
          const cut = list.separator?.trim() ?? '';
          expect(
            texts.some(
              (text) =>
                text === '' ||
                text === list.empty ||
                text !== text.trim() ||
                (cut === '' ? /\s/.test(text) : text.includes(cut)),
            ),
          ).toBe(true);
          return;
        }
        readsBack(lens, 'artwork.languages', value, spelled, sameContent);
      }),
      check,
    );
  });

  it('gives back every set of words, in its own spellings', () => {
    const words = ['picture', 'video', 'description', 'rating'] as const;
    fc.assert(
      fc.property(
        spec,
        fc.subarray([...words]),
        fc.uniqueArray(fc.stringMatching(/^[a-z]{1,5}$/), { minLength: 4, maxLength: 4 }),
        fc.integer({ min: 0, max: 4 }),
        (list, chosen, spellings, known) => {
          const values = Object.fromEntries(words.slice(0, known).map((word, at) => [word, spellings[at] ?? word]));
          const lens = lensOf({
            'artwork.take': { file: 'native', key: 'take', list: { ...list, ...(known === 0 ? {} : { values }) } },
          });
          const value: Value = { kind: 'words', words: chosen };
          const spelled = lens.spell('artwork.take', value, {});
          if (spelled.kind === 'cannot')
            expect(known > 0 && chosen.some((word) => values[word] === undefined)).toBe(true);
          else readsBack(lens, 'artwork.take', value, spelled, sameContent);
        },
      ),
      check,
    );
  });

  it('changes no list that it can read', () => {
    fc.assert(
      fc.property(
        spec,
        fc.string({ maxLength: 12 }),
        fc.array(fc.string({ maxLength: 4 }), { maxLength: 3 }),
        (list, text, items) => {
          const lens = lensOf({ 'artwork.languages': { file: 'native', key: 'tongues', list } });
          const held: SyntaxValue =
            list.separator === undefined ? { kind: 'list', items: items.map((one) => ({ text: one })) } : scalar(text);
          const cut = list.separator?.trim() ?? '';
          const split = (value: SyntaxValue): readonly string[] => {
            if (value.kind === 'list') return value.items.map((one) => one.text);
            if (value.text === (list.empty ?? '')) return [];
            return list.separator === undefined
              ? [value.text]
              : cut === ''
                ? value.text.trim().split(/\s+/)
                : value.text.split(cut).map((one) => one.trim());
          };
          changesNothing(
            lens,
            'artwork.languages',
            new Map([['tongues', held]]),
            (a, b) => JSON.stringify(split(a)) === JSON.stringify(split(b)),
          );
        },
      ),
      check,
    );
  });
});

describe('members', () => {
  const words = ['picture', 'video', 'description', 'rating'] as const;
  const spec = fc.record({
    known: fc.subarray([...words], { minLength: 1 }),
    on: fc.constantFrom(undefined, '1', 'yes'),
    off: fc.constantFrom(undefined, '0', 'no'),
  });

  it('gives back every set of the words that have a switch', () => {
    fc.assert(
      fc.property(spec, fc.subarray([...words]), ({ known, on, off }, chosen) => {
        const keys = Object.fromEntries(known.map((word) => [word, `with-${word}`]));
        const lens = lensOf({
          'artwork.take': {
            file: 'main',
            members: { keys, ...(on === undefined ? {} : { on }), ...(off === undefined ? {} : { off }) },
          },
        });
        const value: Value = { kind: 'words', words: chosen };
        const spelled = lens.spell('artwork.take', value, {});
        if (chosen.some((word) => !known.includes(word)))
          expect(spelled).toMatchObject({ kind: 'cannot', code: 'value-not-learnt' });
        else {
          readsBack(lens, 'artwork.take', value, spelled, sameContent);
          expect(spelled.kind === 'exact' && spelled.writes.length).toBe(known.length);
        }
      }),
      check,
    );
  });

  it('changes no switch that it can read', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(undefined, 'true', 'false', '1', ''), { minLength: 4, maxLength: 4 }),
        (texts) => {
          const keys = Object.fromEntries(words.map((word) => [word, `with-${word}`]));
          const lens = lensOf({ 'artwork.take': { file: 'main', members: { keys } } });
          const held = new Map(
            words.flatMap((word, at) =>
              texts[at] === undefined ? [] : [[`with-${word}`, scalar(texts[at])] as const],
            ),
          );
          const known = changesNothing(lens, 'artwork.take', held, sameText);
          expect(known).toBe(texts.every((text) => text === 'true' || text === 'false'));
        },
      ),
      check,
    );
  });
});

describe('several writes', () => {
  const bit = fc.constantFrom('0', '1', '2', 'x', undefined);

  it('agree, or are half changed', () => {
    fc.assert(
      fc.property(bit, bit, (asks, presses_) => {
        const lens = lensOf({
          'exit.ask-first': {
            writes: [
              { file: 'main', key: 'leave-asks', values: { true: '1', false: '0' } },
              { file: 'main', key: 'leave-presses', values: { true: '2', false: '1' } },
            ],
          },
        });
        const held = new Map(
          [
            ['leave-asks', asks],
            ['leave-presses', presses_],
          ].flatMap(([key = '', text]) => (text === undefined ? [] : [[key, scalar(text)] as const])),
        );
        const read = lens.read('exit.ask-first', {}, lookIn(held));
        const first = asks === '1' ? true : asks === '0' ? false : undefined;
        const second = presses_ === '2' ? true : presses_ === '1' ? false : undefined;
        const expected =
          held.size === 0
            ? 'absent'
            : first !== undefined && first === second
              ? 'value'
              : first === undefined && second === undefined
                ? 'unreadable'
                : 'half-changed';
        expect(read.kind).toBe(expected);
        if (read.kind === 'value') expect(written(lens.spell('exit.ask-first', read.value, {}), held)).toEqual(held);
      }),
      check,
    );
  });
});
