import { expect, test } from 'vitest';
import { readLayer } from '../../../src/1-load/read-document.ts';
import { completeFacts } from '../../../src/2-resolve/complete-facts.ts';
import { mergeFacts } from '../../../src/2-resolve/merge-facts.ts';
import type { LayerDocument } from '../../../src/model/document.ts';

function layer(name: string, text: string): LayerDocument {
  const read = readLayer({ name, text }, ['profile', 'house']);
  expect(read.findings).toEqual([]);
  if (read.value === undefined) throw new Error(name);
  return read.value;
}

const guide = layer(
  'guide.yaml',
  'house: tarn-facts\nformat: 1\nfrontends:\n  withy: { dialect: withy@1, version: unknown }\n',
);

test('what an instance needs may come from several layers', () => {
  const profile = layer(
    'tarn.yaml',
    'profile: tarn\nformat: 1\nfrontends:\n  withy: { root: "games:withy", version: 3.1 }\n',
  );
  const { value, findings } = completeFacts(mergeFacts([guide, profile]));
  expect(findings).toEqual([]);
  expect(value.frontends).toEqual({ withy: { dialect: 'withy@1', version: '3.1', root: 'games:withy' } });
});

test('what no layer says is told at the instance, and the instance is left out', () => {
  const profile = layer(
    'tarn.yaml',
    'profile: tarn\nformat: 1\ndevice:\n  os: { root: "settings:" }\nfrontends:\n  sill: { dialect: sill@1, version: 4, root: "games:sill" }\n',
  );
  const { value, findings } = completeFacts(mergeFacts([guide, profile]));
  expect(findings.map(({ code, place, detail }) => [code, place?.source.name, place?.span.start, detail])).toEqual([
    ['missing-key', 'tarn.yaml', profile.source.text.indexOf('os:'), 'device.os has no dialect in any layer.'],
    ['missing-key', 'tarn.yaml', profile.source.text.indexOf('os:'), 'device.os has no version in any layer.'],
    ['missing-key', 'guide.yaml', guide.source.text.indexOf('withy:'), 'frontends.withy has no root in any layer.'],
  ]);
  expect(Object.keys(value.frontends)).toEqual(['sill']);
  expect(value.device).not.toHaveProperty('os');
});

test('an instance that a layer takes away needs nothing', () => {
  const profile = layer('tarn.yaml', 'profile: tarn\nformat: 1\nfrontends:\n  withy: null\n');
  const { value, findings } = completeFacts(mergeFacts([guide, profile]));
  expect(findings).toEqual([]);
  expect(value.frontends).toEqual({});
});
