import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, profilePaths, runProfile } from '../../../src/pipeline.ts';
import { makeWorld, readFolder } from '../../support/world.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const world = readFolder(join('test/cases/findings', '_world'));

const actions = [
  'exit-game',
  'open-menu',
  'pause',
  'fast-forward',
  'save-state',
  'load-state',
  'reset-game',
  'screenshot',
] as const;
// vocabulary.md, Chords.
const destructive: readonly string[] = ['load-state', 'reset-game'];
const frequent: readonly string[] = ['fast-forward', 'open-menu', 'pause', 'save-state'];

const codes = {
  south: 'BTN_SOUTH',
  east: 'BTN_EAST',
  north: 'BTN_NORTH',
  west: 'BTN_WEST',
  'dpad-up': 'BTN_DPAD_UP',
  'dpad-left': 'BTN_DPAD_LEFT',
  'shoulder-left': 'BTN_TL',
  'shoulder-right': 'BTN_TR',
  'trigger-left': 'BTN_TL2',
  select: 'BTN_SELECT',
  start: 'BTN_START',
  mode: 'BTN_MODE',
} as const;
type Control = keyof typeof codes;
const controls = Object.keys(codes) as readonly Control[];

/** Which fingers come to a control (common practice, no source); written anew here, not taken from the code under test. */
function fingers(control: Control, body: string, hands: Readonly<Record<string, string>>): readonly string[] {
  const own = hands[control];
  if (own !== undefined) return [own];
  const thumbs = ['left-thumb', 'right-thumb'];
  switch (control) {
    case 'south':
    case 'east':
    case 'north':
    case 'west':
      return ['right-thumb'];
    case 'dpad-up':
    case 'dpad-left':
      return ['left-thumb'];
    case 'shoulder-left':
      return ['left-index'];
    case 'shoulder-right':
      return ['right-index'];
    case 'trigger-left':
      return body === 'folding' ? ['left-index'] : ['left-index', 'left-middle'];
    case 'select':
      return body === 'wide' ? ['left-thumb', 'left-index'] : thumbs;
    case 'start':
      return body === 'wide' ? ['right-thumb', 'right-index'] : thumbs;
    case 'mode':
      return thumbs;
  }
}

const beside: readonly (readonly [Control, Control])[] = [
  ['south', 'east'],
  ['east', 'north'],
  ['north', 'west'],
  ['west', 'south'],
  ['dpad-up', 'dpad-left'],
  ['shoulder-left', 'shoulder-right'],
];

interface Made {
  readonly body: string;
  readonly fires: 'press' | 'release';
  readonly hands: Readonly<Record<string, string>>;
  readonly reserved: readonly (readonly Control[])[];
  readonly frontends: readonly {
    readonly hold: Control;
    readonly bind: readonly (readonly [(typeof actions)[number], Control])[];
  }[];
}

const control = fc.constantFrom(...controls);
const frontend = fc.record({
  // Two holds, so that both frontends often have the same.
  hold: fc.constantFrom<Control>('mode', 'mode', 'select', 'shoulder-left'),
  bind: fc.uniqueArray(fc.tuple(fc.constantFrom(...actions), control), {
    selector: ([action]) => action,
    maxLength: 8,
  }),
});
const made: fc.Arbitrary<Made> = fc.record({
  body: fc.constantFrom('upright', 'wide', 'folding'),
  fires: fc.constantFrom<'press' | 'release'>('press', 'release'),
  hands: fc.dictionary(control, fc.constantFrom('left-thumb', 'right-thumb', 'left-index', 'right-middle'), {
    maxKeys: 2,
  }),
  reserved: fc.array(fc.uniqueArray(control, { minLength: 1, maxLength: 3 }), { maxLength: 2 }),
  frontends: fc.tuple(frontend, frontend),
});

// A frontend in `for:` may also be that of a dialect, of which both are: the first gets a name of its own.
const names = ['first', 'other'] as const;

function findingsOf({ body, fires, hands, reserved, frontends }: Made): readonly string[] {
  const binds = frontends.map(
    ({ hold, bind }, k) =>
      `  - { for: { frontend: ${names[k] ?? ''} }, hotkeys: { hold: ${hold}, bind: { ${bind.map(([action, on]) => `${action}: ${on}`).join(', ')} } } }\n`,
  );
  const more = actions
    .filter((action) => !['exit-game', 'open-menu', 'load-state'].includes(action))
    .map((action) => `  hotkeys.bind.${action}: { file: main, key: ${action}, control: {} }\n`);
  const files = makeWorld(world, [
    { file: 'profiles/house.yaml', text: 'house: home\nformat: 1\n' },
    {
      file: 'profiles/dialects/lark.yaml',
      find: '  hold: global\n',
      put: `  hold: global\n  fires: ${fires}\n`,
    },
    { file: 'profiles/dialects/lark.yaml', find: 'settings:\n', put: `settings:\n${more.join('')}` },
    {
      file: 'profiles/wren.yaml',
      find: 'BTN_SOUTH, BTN_EAST, BTN_TL, BTN_TR, BTN_SELECT, BTN_START, BTN_MODE',
      put: Object.values(codes).join(', '),
    },
    {
      file: 'profiles/wren.yaml',
      find: '  performance: 2\n',
      put: `  performance: 2\n  body: ${body}\n  hands: ${JSON.stringify(hands)}\n  reserved:${reserved.length === 0 ? ' []' : ''}\n${reserved
        .map((press, k) => `    - { press: [${press.join(', ')}], does: does ${k} }\n`)
        .join('')}`,
    },
    { file: 'profiles/wren.yaml', find: '  lark: {', put: '  first: {' },
    { file: 'profiles/wren.yaml', find: 'allow:\n', put: `only:\n${binds.join('')}allow:\n` },
  ]);
  const opened = openProject(files, hostPath('/w')).value;
  if (opened === undefined) throw new Error('The world is no workspace.');
  const [profile] = profilePaths(opened);
  if (profile === undefined) throw new Error('The world has no profile.');
  const { findings } = runProfile(opened, profile.path, { card: undefined, newest: false });
  const unread = findings.filter(({ code }) => /^(yaml|unknown|wrong|missing|control-missing|nowhere)/.test(code));
  expect(unread.map(({ code, detail }) => `${code} ${detail}`)).toEqual([]);
  return findings
    .filter(({ code }) =>
      [
        'one-chord-two-actions',
        'chord-differs',
        'reserved-chord',
        'chord-inside-chord',
        'same-finger',
        'destructive-beside-frequent',
        'destructive-unguarded',
      ].includes(code),
    )
    .map(({ code, about }) => [code, ...[...(about ?? [])].sort()].join(' '))
    .sort();
}

/** All pairs, by the definitions of vocabulary.md, from what was drawn: no profile is read here. */
function bruteForce({ body, fires, hands, reserved, frontends }: Made): readonly string[] {
  const found: string[] = [];
  const tell = (code: string, ...about: readonly string[]): void =>
    void found.push([code, ...about.toSorted()].join(' '));
  const all = frontends.flatMap(({ hold, bind }, k) =>
    bind.map(([action, on]) => ({ name: names[k] ?? '', action, chord: new Set<Control>([hold, on]), hold, on })),
  );
  const os = reserved.map((press, k) => ({ does: `does ${k}`, chord: new Set<Control>(press) }));
  const within = (a: ReadonlySet<Control>, b: ReadonlySet<Control>): boolean => [...a].every((one) => b.has(one));
  for (const { name, action, chord, hold, on } of all) {
    const free = fingers(on, body, hands).some((one) => fingers(hold, body, hands).some((other) => one !== other));
    if (chord.size > 1 && !free) tell('same-finger', action, name);
    if (chord.size === 1 && destructive.includes(action)) tell('destructive-unguarded', action, name);
    for (const { does, chord: taken } of os) {
      if (within(chord, taken) && within(taken, chord)) tell('reserved-chord', action, name, does);
      else if (within(chord, taken) && fires === 'press') tell('chord-inside-chord', action, name, does);
      // The operating system acts at once.
      else if (within(taken, chord)) tell('chord-inside-chord', action, name, does);
    }
  }
  all.forEach((a, i) => {
    all.slice(i + 1).forEach((b) => {
      const same = within(a.chord, b.chord) && within(b.chord, a.chord);
      const about = [a.action, a.name, b.action, b.name];
      if (a.name !== b.name) {
        if (a.action === b.action && !same) tell('chord-differs', ...about);
        return;
      }
      if (same) tell('one-chord-two-actions', ...about);
      else if (fires === 'press' && (within(a.chord, b.chord) || within(b.chord, a.chord)))
        tell('chord-inside-chord', ...about);
      const slips = beside.some((pair) => pair.includes(a.on) && pair.includes(b.on) && a.on !== b.on);
      const risky = [
        [a, b],
        [b, a],
      ].some(([x, y]) => destructive.includes(x?.action ?? '') && frequent.includes(y?.action ?? ''));
      if (slips && risky && a.on !== a.hold && b.on !== b.hold) tell('destructive-beside-frequent', ...about);
    });
  });
  return found.sort();
}

describe('check on random profiles', () => {
  // Each run compiles a profile, which takes its time on a busy machine.
  it('tells every conflict of chords that all pairs have, and no other', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(made, (one) => {
        expect(findingsOf(one)).toEqual(bruteForce(one));
      }),
      { numRuns: runs },
    );
  });
});
