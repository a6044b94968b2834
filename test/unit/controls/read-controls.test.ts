import { describe, expect, it } from 'vitest';
import { isMap, isNode, isPair, isScalar, parseDocument } from 'yaml';
import { readControls } from '../../../src/controls/read-controls.ts';
import type { ControlPlaces } from '../../../src/controls/read-controls.ts';
import { findReference } from '../../../src/controls/resolve-reference.ts';
import type { Place } from '../../../src/text/place.ts';
import type { DeviceControlsWritten } from '../../../src/vocabulary/shapes/profile.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

/** Reads YAML text as the controls of a device, with the places of the yaml library. */
function read(text: string) {
  const source = { name: 'fen.yaml', text };
  const document = parseDocument(text);
  const span = (node: unknown): Place => ({
    source,
    span: isNode(node) && node.range != null ? { start: node.range[0], end: node.range[1] } : { start: 0, end: 0 },
  });
  const places: ControlPlaces = {
    place: (path) => span(document.getIn(path, true)),
    keyPlace: (path) => {
      const parent = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
      const pair = isMap(parent)
        ? parent.items.find((item) => isPair(item) && isScalar(item.key) && item.key.value === path.at(-1))
        : undefined;
      return span(pair?.key);
    },
  };
  return readControls(document.toJS() as DeviceControlsWritten, places);
}

function mended(text: string): string {
  const mend = read(text).findings[0]?.mend;
  return mend === undefined ? text : applyEdits(text, mend.edits);
}

const codes =
  'codes: { pad: [BTN_SOUTH, BTN_EAST, BTN_NORTH, BTN_WEST, ABS_HAT0X, ABS_HAT0Y, BTN_TR2, ABS_RZ], keys: [KEY_VOLUMEUP, KEY_POWER, SW_LID] }\n';

describe('readControls', () => {
  it('looks the code up by position, and takes the written one first', () => {
    const { value, findings } = read(
      `${codes}south: { label: B }\nwest: { label: Y, code: BTN_NORTH }\nnorth: { label: X, code: BTN_WEST }\ntrigger-right: { label: R2, code: [BTN_TR2, ABS_RZ+] }\n`,
    );
    expect(findings).toEqual([]);
    const sends = Object.fromEntries(
      [...value.controls].map(([position, { sources }]) => [
        position,
        sources.map((source) => `${source.input}/${source.code}${source.kind === 'axis' ? source.side : ''}`).join(' '),
      ]),
    );
    expect(sends).toEqual({
      south: 'pad/BTN_SOUTH',
      west: 'pad/BTN_NORTH',
      north: 'pad/BTN_WEST',
      'trigger-right': 'pad/BTN_TR2 pad/ABS_RZ+',
      east: 'pad/BTN_EAST',
      'dpad-up': 'pad/ABS_HAT0Y-',
      'dpad-down': 'pad/ABS_HAT0Y+',
      'dpad-left': 'pad/ABS_HAT0X-',
      'dpad-right': 'pad/ABS_HAT0X+',
      'volume-up': 'keys/KEY_VOLUMEUP',
      power: 'keys/KEY_POWER',
      lid: 'keys/SW_LID',
    });
  });

  it('has exactly the listed controls, and is not complete, when nothing says all codes', () => {
    const { value } = read('south: { label: B }\nmode: { label: Fn }\n');
    expect(value.complete).toBe(false);
    expect([...value.controls.keys()]).toEqual(['south', 'mode']);
    expect(value.controls.get('mode')?.sources).toEqual([
      { kind: 'key', input: 'pad', code: 'BTN_MODE', number: 0x13c },
    ]);
  });

  it.each([
    ['an unknown code', 'south: { code: BTN_SUOTH }\n', 'unknown-event-code', 'BTN_SOUTH'],
    ['an unknown code in the list', 'codes: { pad: [BTN_SOUHT] }\n', 'unknown-event-code', 'BTN_SOUTH'],
    ['an unknown position', 'sooth: { label: B }\n', 'unknown-position', 'south'],
    ['a code that no input has', `${codes}mode: { code: BTN_MODE }\n`, 'code-not-sent', 'BTN_MODE'],
    ['a code of another input', `${codes}power: { code: pad/KEY_POWER }\n`, 'code-not-sent', 'keys/KEY_POWER'],
    ['an input that is not there', `${codes}power: { code: case/KEY_POWER }\n`, 'code-not-sent', 'keys/KEY_POWER'],
    ['a listed control that sends nothing', `${codes}thumb-left: { label: L3 }\n`, 'control-sends-nothing', 'code:'],
    ['one label on two controls', 'south: { label: B }\neast: { label: B }\n', 'one-label-two-controls', 'labels'],
    [
      'one code for two controls',
      'south: { code: BTN_C }\neast: { code: BTN_C }\n',
      'one-code-two-controls',
      'really sends',
    ],
  ])('says what is wrong with %s, and the way out', (_, text, code, wayOut) => {
    const { findings } = read(text);
    expect(findings.map((finding) => finding.code)).toEqual([code]);
    expect(findings[0]?.wayOut).toContain(wayOut);
    expect(findings[0]?.place?.span.end).toBeGreaterThan(0);
  });

  it.each([
    [
      'west: { label: Y, code: BTN_NORTH }\nnorth: { label: X }\n',
      'west: { label: Y, code: BTN_NORTH }\nnorth: { label: X, code: BTN_WEST }\n',
    ],
    [
      'north: { label: X }\nwest: { label: Y, code: BTN_NORTH }\n',
      'north: { label: X, code: BTN_WEST }\nwest: { label: Y, code: BTN_NORTH }\n',
    ],
    [
      'west:\n  code: BTN_NORTH\nnorth:\n  label: X # top\n',
      'west:\n  code: BTN_NORTH\nnorth:\n  label: X # top\n  code: BTN_WEST\n',
    ],
    [
      'west: { code: BTN_NORTH }\nnorth: { code: BTN_NORTH }\n',
      'west: { code: BTN_NORTH }\nnorth: { code: BTN_WEST }\n',
    ],
    ['sooth: { label: B }\n', 'south: { label: B }\n'],
  ])('mends %j', (text, wanted) => {
    expect(mended(text)).toBe(wanted);
    expect(read(wanted).findings).toEqual([]);
  });
});

describe('findReference', () => {
  const controls = read('south: { label: B }\neast: { label: A }\nwest: { label: A }\n').value;

  it('finds by position and by a label of one control', () => {
    expect(findReference('south', controls)).toEqual({ kind: 'found', position: 'south' });
    expect(findReference({ label: 'B' }, controls)).toEqual({ kind: 'found', position: 'south' });
  });

  it('offers what is near, and says when a label is on two controls', () => {
    expect(findReference('sooth', controls)).toMatchObject({ kind: 'missing', nearest: ['south'] });
    expect(findReference({ label: 'b' }, controls)).toMatchObject({ kind: 'missing', nearest: ['B'] });
    expect(findReference({ label: 'A' }, controls)).toMatchObject({ kind: 'missing', several: ['east', 'west'] });
  });
});
