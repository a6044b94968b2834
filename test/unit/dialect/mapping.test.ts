// The codec `mapping`: what it writes into which file, what it reads back, and why it cannot. That the line itself is right is
// judged by libsdl2 in test/conformance/controls.
import { describe, expect, it } from 'vitest';
import { checkDialect } from '../../../src/dialect/check-dialect.ts';
import type { Context, KeyLookup, Spelled } from '../../../src/dialect/contract.ts';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import type { DeviceInput, InputIdentity } from '../../../src/model/device.ts';
import type { Value } from '../../../src/model/value.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';
import { smallContext } from '../../support/dialect/small-context.ts';

const setting = 'pad.mapping';
const on: Value = { kind: 'boolean', is: true };
const off: Value = { kind: 'boolean', is: false };

// Bus, vendor, product and version as in the GUID example of SDL 2.26.5 (standards.md, section 3), its CRC left out.
const identity: InputIdentity = {
  bus: 3,
  vendor: 0x1234,
  product: 0x5678,
  version: 0x0111,
  name: 'Example Pad Three',
};
const guid = '03000000341200007856000011010000';
// By hand: buttons in the order of their codes (SOUTH 130, EAST 131, NORTH 133, WEST 134, TL 136, TR 137, TR2 139, SELECT 13a,
// START 13b, MODE 13c), axes X, Y, Z, RZ, one hat (SDL_sysjoystick.c, lines 966-1065). x is the control at the west, whose code
// is BTN_WEST, the fourth: SDL's own guess would be the third.
const rest =
  'Example Pad Three,a:b0,b:b1,x:b3,y:b2,back:b7,guide:b9,start:b8,leftshoulder:b4,rightshoulder:b5,dpup:h0.1,dpdown:h0.4,dpleft:h0.8,dpright:h0.2,lefttrigger:+a2,righttrigger:+a3,platform:Linux,';

const files = `
  shapes: { path: "{{root}}/shapes.txt", syntax: lines, style: { separator: "," } }
  plain: { path: "{{root}}/plain.txt", syntax: lines }
  main: { path: "{{root}}/play.conf", syntax: pairs }
`;

function dialectOf(entry: string, numbering = '{ order: sdl, version: 2.26.5, udev: true }'): Context['dialect'] {
  return dialectDocument(
    `dialect: harrow\nformat: 1\nversion: 1.0.0\nfor-versions: ">=2.0 <3"\nrole: player\nfiles:${files}controls: { numbering: ${numbering}, button: "{{index}}" }\nsettings: { ${setting}: ${entry} }\n`,
  );
}

function contextOf(dialect: Context['dialect'], change: (pad: DeviceInput) => DeviceInput): Context {
  const context = smallContext(dialect);
  return { ...context, controls: { ...context.controls, inputs: context.controls.inputs.map(change) } };
}

const known = (pad: DeviceInput): DeviceInput => ({ ...pad, identity });

function lensOf(entry: string, change = known, numbering?: string): ReturnType<typeof makeLens>['value'] {
  return makeLens(contextOf(dialectOf(entry, numbering), change), syntaxes).value;
}

function keysOf(spelled: Spelled): readonly (readonly [string, string | undefined])[] {
  if (spelled.kind === 'cannot') throw new Error(spelled.why);
  return spelled.writes.map(({ path, key, value }) => [
    `${path} ${key}`,
    value?.kind === 'scalar' ? value.text : undefined,
  ]);
}

const holds =
  (text: string | undefined): KeyLookup =>
  () =>
    text === undefined ? undefined : { kind: 'scalar', text };

describe('in a file of lines that their GUID names', () => {
  const lens = lensOf('{ file: shapes, mapping: {} }');

  it('writes what follows the GUID, and takes the line out where it is off', () => {
    expect(keysOf(lens.spell(setting, on, {}))).toEqual([[`settings:hall/shapes.txt ${guid}`, rest]]);
    expect(keysOf(lens.spell(setting, off, {}))).toEqual([[`settings:hall/shapes.txt ${guid}`, undefined]]);
  });

  it('reads its own line back, and no other', () => {
    expect(lens.read(setting, {}, holds(rest))).toEqual({ kind: 'value', value: on });
    expect(lens.read(setting, {}, holds(rest), off)).toEqual({ kind: 'value', value: on });
    expect(lens.read(setting, {}, holds(undefined))).toEqual({ kind: 'absent' });
    expect(lens.read(setting, {}, holds(undefined), off)).toEqual({ kind: 'value', value: off });
  });

  it.each([rest.replace('x:b3,y:b2', 'x:b2,y:b3'), rest.slice(0, -1), `${rest} `, ''])(
    'cannot read a line that was changed by hand: %s',
    (text) => {
      expect(lens.read(setting, {}, holds(text), on)).toEqual({
        kind: 'unreadable',
        keys: [{ file: 'shapes', key: guid, text }],
      });
    },
  );

  it('reads from the text that it wrote, whatever else stands there', () => {
    const before = '# pads\n00000000000000000000000000000000,Other,a:b1,platform:Linux,\n';
    const { tree } = syntaxes.lines.parse({ name: 'shapes.txt', text: before }, { separator: ',' });
    if (tree === undefined) throw new Error('unread');
    const { edits } = syntaxes.lines.change(tree, [{ op: 'set', path: guid, value: { kind: 'scalar', text: rest } }]);
    const text = before + (edits[0]?.text ?? '');
    expect(text.split('\n').filter((line) => line.startsWith(guid))).toEqual([`${guid},${rest}`]);
    const after = syntaxes.lines.parse({ name: 'shapes.txt', text }, { separator: ',' }).tree;
    expect(lens.read(setting, {}, (_, key) => after?.get(key))).toEqual({ kind: 'value', value: on });
  });
});

describe('in a file with keys', () => {
  const lens = lensOf('{ file: main, key: shape, mapping: {} }');

  it('writes and reads the whole line', () => {
    expect(keysOf(lens.spell(setting, on, {}))).toEqual([['settings:hall/play.conf shape', `${guid},${rest}`]]);
    expect(lens.read(setting, {}, holds(`${guid},${rest}`))).toEqual({ kind: 'value', value: on });
    expect(lens.read(setting, {}, holds(rest))).toEqual({
      kind: 'unreadable',
      keys: [{ file: 'main', key: 'shape', text: rest }],
    });
  });
});

describe('what cannot be said', () => {
  it('without a capture', () => {
    const spelled = lensOf('{ file: shapes, mapping: {} }', (pad) => pad).spell(setting, on, {});
    expect(spelled).toMatchObject({ kind: 'cannot', code: 'mapping-without-capture' });
    const keyed = lensOf('{ file: main, key: shape, mapping: {} }', (pad) => pad);
    expect(keyed.spell(setting, on, {})).toMatchObject({ kind: 'cannot', code: 'mapping-without-capture' });
    expect(keysOf(keyed.spell(setting, off, {}))).toEqual([['settings:hall/play.conf shape', undefined]]);
  });

  it('where the number of a control is open: an axis that may be half of a hat', () => {
    // ABS_HAT2Y without axis facts: SDL takes it for a hat if it has neither fuzz nor flat (line 918), else for an axis.
    const context = contextOf(dialectOf('{ file: shapes, mapping: {} }'), (pad) => ({
      ...known(pad),
      axes: [...pad.axes, { code: 'ABS_HAT2Y', number: 0x15 }],
    }));
    const left = context.controls.controls.get('trigger-left');
    if (left === undefined) throw new Error('no trigger');
    const source = { kind: 'axis', input: 'pad', code: 'ABS_HAT2Y', number: 0x15, side: '+' } as const;
    const controls = new Map([...context.controls.controls, ['trigger-left', { ...left, sources: [source] }] as const]);
    const lens = makeLens({ ...context, controls: { ...context.controls, controls } }, syntaxes).value;
    expect(lens.spell(setting, on, {})).toMatchObject({ kind: 'cannot', code: 'mapping-undecided' });
  });

  it('tells which controls are not in the line', () => {
    // A d-pad on an input of its own.
    const dialect = dialectOf('{ file: shapes, mapping: {} }');
    const context = contextOf(dialect, known);
    const up = context.controls.controls.get('dpad-up');
    if (up === undefined) throw new Error('no d-pad');
    const elsewhere = up.sources.map((source) => ({ ...source, input: 'pad-2' }));
    const controls = new Map([...context.controls.controls, ['dpad-up', { ...up, sources: elsewhere }] as const]);
    const lens = makeLens({ ...context, controls: { ...context.controls, controls } }, syntaxes).value;
    expect(lens.spell(setting, on, {})).toMatchObject({
      kind: 'approximated',
      how: 'says nothing of dpad-up (it is not on the input pad)',
    });
  });

  it.each([
    ['a numbering that is not SDL’s, and no release', '{ file: shapes, mapping: {} }', 'position', 'bad-codec'],
    ['a file whose lines have no names', '{ file: plain, mapping: {} }', undefined, 'bad-key-map'],
    ['a file of keys, and no key', '{ file: main, mapping: {} }', undefined, 'bad-key-map'],
  ])('%s is a finding of the dialect', (_, entry, numbering, code) => {
    const findings = checkDialect(dialectOf(entry, numbering), new Map(), syntaxes);
    expect(findings.map((finding) => finding.code)).toEqual([code]);
  });

  it('is said under any numbering when the release is given', () => {
    const lens = lensOf('{ file: shapes, mapping: { version: 2.26.5, udev: true } }', known, 'position');
    expect(keysOf(lens.spell(setting, on, {}))).toEqual([[`settings:hall/shapes.txt ${guid}`, rest]]);
  });
});
