import { expect, test } from 'vitest';
import { readLayer } from '../../../src/1-load/read-document.ts';
import { readCandidates } from '../../../src/2-resolve/read-candidates.ts';
import type { DeviceControls } from '../../../src/model/device.ts';
import type { Candidate } from '../../../src/model/resolved.ts';
import { writtenAs } from '../../../src/vocabulary/describe.ts';
import { exampleOf } from '../../../src/vocabulary/example.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import type { SettingDefinition, ValueType } from '../../../src/vocabulary/types.ts';
import { printQuantity } from '../../../src/vocabulary/units.ts';

// The registry is read by the loader and by resolution; what it calls legal must be legal all the way.

const nowhere = { source: { name: 'fen.yaml', text: '' }, span: { start: 0, end: 0 } };
const everyControl: DeviceControls = {
  controls: new Map(
    positions.map((position) => [position, { position, label: position.toUpperCase(), sources: [], place: nowhere }]),
  ),
  inputs: [],
  complete: false,
};

interface Read {
  readonly codes: readonly string[];
  readonly candidates: readonly Candidate[];
}

function read(setting: SettingDefinition, value: string): Read {
  const layer = readLayer({ name: 'house.yaml', text: `house: all\nformat: 1\n${writtenAs(setting, value)}\n` }, [
    'house',
  ]);
  if (layer.value === undefined) return { codes: layer.findings.map(({ code }) => code), candidates: [] };
  const { candidates, findings } = readCandidates([layer.value], everyControl);
  return { codes: findings.map(({ code }) => code), candidates };
}

/** Values that a type calls legal: its example, all its words, its bounds. */
function legal(type: ValueType): readonly string[] {
  const example = exampleOf(type);
  switch (type.kind) {
    case 'boolean':
      return ['true', 'false'];
    case 'word':
      return type.of;
    case 'number':
      return [example, ...[type.min, type.max].filter((bound) => bound !== undefined).map(String)];
    case 'quantity':
      return [
        example,
        ...(type.words ?? []),
        ...[type.min, type.max]
          .filter((bound) => bound !== undefined)
          .map((bound) => printQuantity(bound, type.measure)),
      ];
    case 'text':
      return type.examples;
    case 'words':
      return [example, '[]', ...type.of.map((word) => `[${word}]`)];
    case 'bind':
      return [
        example,
        'none',
        'south',
        '{ label: SOUTH }',
        '{ chord: [select, start] }',
        '{ alone: start, if-present: true }',
        '[north, none]',
      ];
    case 'control':
      return [example, 'none', '{ label: SOUTH }', '[north, south]'];
    default:
      return [example];
  }
}

test.each(settings.map((setting) => [setting.id, setting] as const))(
  'all that %s calls legal is understood',
  (id, setting) => {
    for (const value of [...legal(setting.type), 'null']) {
      const { codes, candidates } = read(setting, value);
      expect(codes, `${id}: ${value}`).toEqual([]);
      expect(
        candidates.map((candidate) => candidate.setting),
        `${id}: ${value}`,
      ).toEqual([id]);
    }
  },
);

/** Values that it must refuse, with one finding each. */
function illegal(type: ValueType): readonly string[] {
  switch (type.kind) {
    case 'boolean':
      return ['yes', '1', '[]'];
    case 'word':
      return ['nosuchword', '{}'];
    case 'number':
      return [
        'many',
        ...(type.max === undefined ? [] : [String(type.max + 1)]),
        ...(type.min === undefined ? [] : [String(type.min - 1)]),
      ];
    case 'quantity':
      return ['10', '10 furlongs', ...(type.max === undefined ? [] : [printQuantity(type.max * 2, type.measure)])];
    case 'text':
      return type.pattern === undefined ? ['{}'] : ['"?!"'];
    case 'secret':
      return ['hunter2', '[]'];
    case 'words':
      return ['[nosuchword]', '5'];
    case 'place':
      return ['nowhere', '{}'];
    case 'bind':
    case 'control':
      return ['souht', '{ lable: A }'];
    default:
      return ['5.5'];
  }
}

test.each(settings.map((setting) => [setting.id, setting] as const))(
  'what %s cannot be is one finding',
  (id, setting) => {
    for (const value of illegal(setting.type)) expect(read(setting, value).codes, `${id}: ${value}`).toHaveLength(1);
  },
);
