import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import { refitProfile } from '../../../src/pipeline/refit-profile.ts';
import { withFile } from '../../../src/pipeline/profile-like.ts';
import { demoFiles } from '../../support/demo.ts';

/** Each run compiles a dozen profiles. */
const runs = Math.ceil(Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) / 6);

const actions = [
  'exit-game',
  'open-menu',
  'pause',
  'fast-forward',
  'slow-motion',
  'rewind',
  'save-state',
  'load-state',
  'reset-game',
  'screenshot',
  'show-frame-rate',
  'mute',
] as const;

const codes = {
  south: 'BTN_SOUTH',
  east: 'BTN_EAST',
  north: 'BTN_NORTH',
  west: 'BTN_WEST',
  'shoulder-left': 'BTN_TL',
  'shoulder-right': 'BTN_TR',
  select: 'BTN_SELECT',
  start: 'BTN_START',
  mode: 'BTN_MODE',
  'dpad-up': 'BTN_DPAD_UP',
  'dpad-down': 'BTN_DPAD_DOWN',
  'dpad-left': 'BTN_DPAD_LEFT',
  'dpad-right': 'BTN_DPAD_RIGHT',
} as const;
type Control = keyof typeof codes;
const controls = Object.keys(codes) as readonly Control[];
const onTarn = [...controls, 'trigger-left', 'trigger-right', 'thumb-left', 'thumb-right'] as const;

const drawn = fc.record({
  binds: fc
    .tuple(fc.shuffledSubarray([...actions], { minLength: 3 }), fc.shuffledSubarray([...onTarn], { minLength: 12 }))
    .map(([some, at]) => some.map((action, k) => `${action}: ${at[k] ?? 'none'}`)),
  hold: fc.constantFrom('mode', 'mode', 'select', 'shoulder-left', 'thumb-right'),
  without: fc.subarray([...controls], { maxLength: 6 }),
  reserved: fc.array(fc.shuffledSubarray([...controls], { minLength: 2, maxLength: 2 }), { maxLength: 2 }),
  hands: fc.dictionary(fc.constantFrom(...controls), fc.constantFrom('left-thumb', 'right-thumb', 'left-index'), {
    maxKeys: 2,
  }),
  body: fc.constantFrom('upright', 'wide', 'folding'),
  pin: fc.subarray([...actions, 'hold'], { maxLength: 2 }),
  withy: fc.boolean(),
  narrow: fc.constantFrom(
    '',
    '  - for: { frontend: harrow, system: burdock }\n    hotkeys: { bind: { screenshot: select } }\n',
    '  - for: { frontend: harrow-hall }\n    hotkeys: { bind: { mute: west, pause: none } }\n',
  ),
  own: fc.constantFrom(
    '',
    'hotkeys: { bind: { change-disc: south } }\n',
    'hotkeys: { bind: { rewind: [east, west] } }\n',
  ),
});

/** Tarn with other hotkeys, and Mere with other controls, chords of its system, hands, and perhaps Withy. */
function worldOf(one: typeof drawn extends fc.Arbitrary<infer T> ? T : never): ReturnType<typeof demoFiles> {
  const there = controls.filter((control) => !one.without.includes(control));
  const reserved = one.reserved.filter((press) => press.every((control) => there.includes(control)));
  return demoFiles({
    'profiles/tarn.yaml': (text) =>
      text
        .replace(
          /hotkeys:\n {2}bind:\n(?: {4}\S.*\n)+/,
          `hotkeys: { hold: ${one.hold}, bind: { ${one.binds.join(', ')} } }\n`,
        )
        .replace('only:\n', `only:\n${one.narrow}`)
        .concat(`refit: { pin: [${one.pin.join(', ')}] }\n`),
    'profiles/mere.yaml': (text) =>
      text
        .replace(/ {6}pad: \[[^\]]*\]/, `      pad: [${there.map((control) => codes[control]).join(', ')}]`)
        .replace(/^ {4}(\S+): \{ label: .*\n/gm, (line: string, name: string) =>
          there.some((control) => control === name) ? line : '',
        )
        .replace('  body: folding\n', `  body: ${one.body}\n  hands: ${JSON.stringify(one.hands)}\n`)
        .replace(
          '\nfrontends:\n',
          `  reserved: [${reserved.map((press) => `{ press: [${press.join(', ')}], does: something }`).join(', ')}]\n\nfrontends:\n${one.withy ? '  withy: { dialect: withy@1, version: 0.8.2, root: "settings:withy", bits: 64, cores: { siskin: 1.3.0 } }\n' : ''}`,
        )
        .concat(one.own.includes('change-disc') && !there.includes('south') ? '' : one.own),
  });
}

/** The one control that may be held is reached by the thumb that the target's own hotkey needs. */
const ownUnderTheNewHold: Parameters<typeof worldOf>[0] = {
  binds: ['reset-game: shoulder-right', 'screenshot: dpad-up', 'show-frame-rate: west'],
  hold: 'mode',
  without: ['shoulder-left', 'select', 'start', 'mode'],
  reserved: [],
  hands: { 'shoulder-right': 'right-thumb' },
  body: 'upright',
  pin: [],
  withy: false,
  narrow: '',
  own: 'hotkeys: { bind: { change-disc: south } }\n',
};

/** The target's own rewind has its second wish, since fast-forward has the first; fast-forward goes elsewhere. */
const betterWishSetFree: Parameters<typeof worldOf>[0] = {
  binds: ['slow-motion: dpad-left', 'fast-forward: thumb-left', 'load-state: dpad-up'],
  hold: 'mode',
  without: [],
  reserved: [],
  hands: {},
  body: 'upright',
  pin: [],
  withy: false,
  narrow: '',
  own: 'hotkeys: { bind: { rewind: [east, west] } }\n',
};

const wrong: readonly string[] = ['one-chord-two-actions', 'reserved-chord', 'control-missing', 'no-free-wish'];

describe('refit into a profile', () => {
  it(
    'leaves no error of chords, whatever the devices are, and then finds nothing to move',
    { timeout: 600_000 },
    () => {
      fc.assert(
        fc.property(drawn, (one) => {
          const files = worldOf(one);
          const tarn = hostPath('/w/profiles/tarn.yaml');
          const mere = hostPath('/w/profiles/mere.yaml');
          const opened = openProject(files, hostPath('/w')).value;
          if (opened === undefined) throw new Error('The demo is no workspace.');
          const { value, findings } = refitProfile(opened, tarn, mere);
          expect(value, findings.map(({ detail }) => detail).join('\n')).toBeDefined();
          // What the target keeps of its own must be sound to begin with: refit does not mend it.
          const here = runProfile(opened, mere, { card: undefined, newest: false });
          const placed = new Set(value?.brought.problem.habits.map(({ action }) => `hotkeys.bind.${action}`));
          fc.pre(
            !here.findings.some(
              ({ code, setting = '' }) =>
                (code === 'same-finger' || wrong.includes(code)) &&
                setting.startsWith('hotkeys.bind.') &&
                !placed.has(setting),
            ),
          );
          for (const { file, findings: brought } of value?.taken ?? []) {
            expect(brought.map(({ code, detail }) => `${code}: ${detail}`)).toEqual([]);
            if (file === undefined) continue;
            const after = openProject(withFile(files, mere, file.text), hostPath('/w')).value;
            if (after === undefined) throw new Error('The demo is no workspace.');
            const run = runProfile(after, mere, { card: undefined, newest: false });
            const checked = run.findings;
            expect(
              checked
                .filter(({ code, setting }) => wrong.includes(code) && setting?.startsWith('menus.') !== true)
                .map(({ code, detail }) => `${code}: ${detail}`),
            ).toEqual([]);
            // Under the thumb of the hold control nothing goes either.
            expect(checked.filter(({ code }) => code === 'same-finger').map(({ detail }) => detail)).toEqual([]);
            // What is the target's own stays where it was.
            const there = run.parts?.resolved;
            for (const { action, spots } of value?.brought.problem.standing ?? [])
              for (const k of spots) {
                const spot = value?.brought.spots[k];
                const instance = there?.instances.find(({ name }) => name === spot?.instance.name);
                if (spot === undefined || instance === undefined) continue;
                const setting = `hotkeys.bind.${action}`;
                const was = here.parts?.resolved.decide(spot.instance, setting, spot.point)?.value;
                expect([setting, there?.decide(instance, setting, spot.point)?.value]).toEqual([setting, was]);
              }
          }
        }),
        { numRuns: runs, examples: [[ownUnderTheNewHold], [betterWishSetFree]] },
      );
    },
  );
});
