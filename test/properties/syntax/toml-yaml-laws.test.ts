import { describe, it } from 'vitest';
import fc from 'fast-check';
import { tomlTree } from '../../support/syntax/toml.ts';
import * as laws from '../../support/syntax/tree-laws.ts';
import { freshNames as fresh, words } from '../../support/syntax/tree-values.ts';
import { yamlTree } from '../../support/syntax/yaml.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

const pick = fc.nat(1000);

describe.each([tomlTree, yamlTree].map((of) => [of.syntax.name, of] as const))('%s', (_, of) => {
  it('keeps every byte and places every key', () => {
    fc.assert(
      fc.property(of.texts, (text) => laws.keysHavePlaces(of, text)),
      { numRuns },
    );
  });
  it('sets a key', () => {
    fc.assert(
      fc.property(of.texts, pick, of.values, of.values, (text, at, one, other) =>
        laws.setExisting(of, text, at, one, other),
      ),
      { numRuns },
    );
  });
  it('inserts and removes a key', () => {
    fc.assert(
      fc.property(of.texts, pick, fresh, of.values, (text, at, names, one) =>
        laws.insertAndRemove(of, text, at, names, one),
      ),
      { numRuns },
    );
  });
  it('removes keys', () => {
    fc.assert(
      fc.property(of.texts, fc.array(pick, { maxLength: 4 }), (text, picks) => laws.removeExisting(of, text, picks)),
      { numRuns },
    );
  });
  it('makes several changes as it makes them one by one', () => {
    const wish = fc.record({
      pick,
      names: fc.oneof(fc.constant([]), fresh),
      value: fc.option(of.values, { nil: undefined, freq: 3 }),
    });
    fc.assert(
      fc.property(of.texts, fc.array(wish, { maxLength: 5 }), (text, wishes) =>
        laws.batchEqualsSequence(of, text, wishes),
      ),
      { numRuns },
    );
  });
  it('puts and drops records', () => {
    const siblings = fc.constantFrom('start', 'end', 'sorted');
    const name = fc.constantFrom('records', 'odd name');
    fc.assert(
      fc.property(of.texts, pick, name, words, of.values, siblings, (text, at, list, is, one, order) =>
        laws.putAndDropRecord(of, text, at, list, is, one, order),
      ),
      { numRuns },
    );
  });
});
