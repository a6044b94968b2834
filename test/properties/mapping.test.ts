// The codec `mapping` on random pads: what it writes it reads back, whatever else is in the file; what a hand changed it does not.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readControls } from '../../src/controls/read-controls.ts';
import { codeNames, eventCode } from '../../src/controls/event-codes.ts';
import type { KeyLookup } from '../../src/dialect/contract.ts';
import { makeLens } from '../../src/dialect/make-lens.ts';
import type { DeviceInput } from '../../src/model/device.ts';
import type { Value } from '../../src/model/value.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import { applyEdits } from '../../src/text/text-edit.ts';
import { dialectDocument } from '../support/dialect/dialect-document.ts';
import { smallContext } from '../support/dialect/small-context.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const setting = 'pad.mapping';
const on: Value = { kind: 'boolean', is: true };
const off: Value = { kind: 'boolean', is: false };
const style = { separator: ',' };

const dialect = dialectDocument(
  `dialect: harrow\nformat: 1\nversion: 1.0.0\nfor-versions: ">=2.0 <3"\nrole: player\nfiles: { shapes: { path: "{{root}}/shapes.txt", syntax: lines, style: { separator: "," } } }\ncontrols: { numbering: { order: sdl, version: 2.26.5, udev: true } }\nsettings: { ${setting}: { file: shapes, mapping: {} } }\n`,
);

const codes = [...codeNames].flatMap((name) => {
  const code = eventCode(name);
  return code !== undefined && code.name === name ? [code] : [];
});
const keyCodes = codes.filter(({ kind, number }) => kind === 'key' && number >= 0x120 && number < 0x240);
const axisCodes = codes.filter(({ kind, number }) => kind === 'axis' && number < 0x18);
const word = fc.integer({ min: 0, max: 0xffff });

const pads: fc.Arbitrary<DeviceInput> = fc
  .record({
    keys: fc.subarray(keyCodes, { minLength: 1 }),
    axes: fc.subarray(axisCodes),
    low: fc.constantFrom(-1, -32768, 0),
    identity: fc.record({ bus: word, vendor: word, product: word, version: word, name: fc.string({ maxLength: 30 }) }),
  })
  .map(({ keys, axes, low, identity }) => {
    const plain = (all: typeof codes): { code: string; number: number }[] =>
      all.map(({ name, number }) => ({ code: name, number })).sort((a, b) => a.number - b.number);
    const facts = { minimum: low, maximum: low === 0 ? 255 : -low, fuzz: low === -1 ? 0 : 4, flat: 0, resolution: 0 };
    return { name: 'pad', identity, keys: plain(keys), axes: plain(axes).map((axis) => ({ ...axis, ...facts })) };
  });

const nowhere = { source: { name: 'test', text: '' }, span: { start: 0, end: 0 } };

function lensOf(pad: DeviceInput): ReturnType<typeof makeLens>['value'] {
  const capture = { inputs: [pad], pressed: new Map(), unplaced: [] };
  const controls = readControls({}, { place: () => nowhere, keyPlace: () => nowhere }, capture).value;
  return makeLens(smallContext(dialect, { controls }), syntaxes).value;
}

describe('mapping', () => {
  it('reads back the line that it wrote into a file, from among others, and takes it out again', () => {
    let written = 0;
    fc.assert(
      fc.property(pads, pads, (pad, other) => {
        const lens = lensOf(pad);
        const told = lens.spell(setting, on, {});
        const theirs = lensOf(other).spell(setting, on, {});
        if (told.kind === 'cannot' || theirs.kind === 'cannot') return;
        const [write] = told.writes;
        const [foreign] = theirs.writes;
        if (write?.value?.kind !== 'scalar' || foreign?.value?.kind !== 'scalar') throw new Error('no line');
        if (write.key === foreign.key) return;
        written += 1;
        const before = `# pads\n${foreign.key},${foreign.value.text}\n`;
        const source = { name: 'shapes.txt', text: before };
        const { tree } = syntaxes.lines.parse(source, style);
        if (tree === undefined) throw new Error('unread');
        const { edits } = syntaxes.lines.change(tree, [{ op: 'set', path: write.key, value: write.value }]);
        const text = applyEdits(before, edits);
        const after = syntaxes.lines.parse({ name: 'shapes.txt', text }, style).tree;
        const look: KeyLookup = (_, key) => after?.get(key);
        expect(lens.read(setting, {}, look)).toEqual({ kind: 'value', value: on });
        expect(after?.get(foreign.key)).toEqual(foreign.value);
        const [gone] = lens.spell(setting, off, {}).kind === 'exact' ? [write.key] : [];
        if (gone === undefined || after === undefined) throw new Error('cannot be switched off');
        const back = syntaxes.lines.change(after, [{ op: 'remove', path: gone }]);
        expect(applyEdits(text, back.edits)).toBe(before);
      }),
      { numRuns },
    );
    expect(written).toBeGreaterThan(0);
  });

  it('cannot read a line of which any character was changed', () => {
    fc.assert(
      fc.property(pads, fc.nat(), fc.constantFrom('', 'q', '~', ','), (pad, at, put) => {
        const lens = lensOf(pad);
        const told = lens.spell(setting, on, {});
        if (told.kind === 'cannot') return;
        const [write] = told.writes;
        if (write?.value?.kind !== 'scalar') throw new Error('no line');
        const { text } = write.value;
        const k = at % text.length;
        const changed = text.slice(0, k) + put + text.slice(k + 1);
        if (changed === text) return;
        const read = lens.read(setting, {}, () => ({ kind: 'scalar', text: changed }), on);
        expect(read).toEqual({ kind: 'unreadable', keys: [{ file: 'shapes', key: write.key, text: changed }] });
      }),
      { numRuns },
    );
  });
});
