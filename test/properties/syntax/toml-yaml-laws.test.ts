import { describe, it } from 'vitest';
import fc from 'fast-check';
import { CORE_SCHEMA, defineScalarTag, load } from 'js-yaml';
import { parse as readSmolToml } from 'smol-toml';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import { printDottedPath, readDottedPath, tomlPaths, yamlPaths } from '../../../src/syntax/shared/dotted-path.ts';
import { toml } from '../../../src/syntax/toml/toml.ts';
import { yaml } from '../../../src/syntax/yaml/yaml.ts';
import { readYamlPath } from '../../../src/syntax/yaml/yaml-tree.ts';
import { plainOf } from '../../support/syntax/edited-object.ts';
import type { Step } from '../../support/syntax/edited-object.ts';
import { tomlText } from '../../support/syntax/toml-texts.ts';
import * as laws from '../../support/syntax/tree-laws.ts';
import type { TreeSyntax } from '../../support/syntax/tree-laws.ts';
import { yamlText } from '../../support/syntax/yaml-texts.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

const words = fc.oneof(
  fc.constantFrom(
    '',
    'true',
    '12',
    'null',
    'two words',
    ' x ',
    'a: b',
    '# no',
    "it's",
    '"q"',
    'C:\\x',
    'é',
    '\ud83d\ude00',
    '- x',
    'l1\nl2',
    'l1\nl2\n',
    '\t',
    'on',
    '1_0',
    '[x',
    '*a',
    '&a',
    '!t',
    '%x',
    '@x',
    '`x',
    '0b1',
    '...',
    '---',
    '{{x}}',
    '1:2',
    'a,b',
    "'",
    '?',
    '? x',
    '<<',
    '=',
    '~',
    '\n',
    ' \n x',
    'x\u0085y',
    '\u2028',
    '\ufeff',
  ),
  fc.string({ maxLength: 8 }),
  fc.string({ maxLength: 6, unit: 'binary' }).filter((text) => !/\p{Surrogate}/u.test(text)),
);

function value(literals: readonly [string, ...string[]]): fc.Arbitrary<SyntaxValue> {
  const scalar = fc.oneof(
    words.map((text) => ({ text })),
    fc.constantFrom(...literals).map((text) => ({ text, literal: true })),
  );
  return fc.oneof(
    { weight: 3, arbitrary: scalar.map((item): SyntaxValue => ({ kind: 'scalar', ...item })) },
    { weight: 1, arbitrary: fc.array(scalar, { maxLength: 4 }).map((items): SyntaxValue => ({ kind: 'list', items })) },
  );
}

function stepsOf(path: ReturnType<typeof readDottedPath>): readonly Step[] {
  if (path.kind === 'bad') throw new Error(path.why);
  return path.steps;
}

const readToml = (text: string): unknown => readSmolToml(text.replace(/^\ufeff/, ''), { integersAsBigInt: 'asNeeded' });
const ownTags = CORE_SCHEMA.withTags(
  defineScalarTag('!own', { resolve: (source: string) => source, identify: () => false }),
);
const readYaml = (text: string): unknown =>
  text.replaceAll(/^\ufeff?\s*(?:#.*)?$/gm, '').trim() === '' ? null : load(text, { schema: ownTags });

const syntaxes: readonly TreeSyntax[] = [
  {
    syntax: toml,
    texts: tomlText(),
    values: value([
      'true',
      '12',
      '0x1f',
      '1_000.5',
      'inf',
      '1979-05-27',
      '07:32:00',
      '1979-05-27T07:32:00Z',
      '-0',
      'null',
    ]),
    print: (steps) => printDottedPath(steps, tomlPaths),
    steps: (path) => stepsOf(readDottedPath(path, tomlPaths)),
    reader: readToml,
    reads: (asked) => {
      const item = (one: { text: string; literal?: boolean }): unknown =>
        one.literal === true ? (readToml(`v = ${one.text}`) as { v: unknown }).v : one.text;
      return plainOf(asked.kind === 'scalar' ? item(asked) : asked.items.map(item));
    },
  },
  {
    syntax: yaml,
    texts: yamlText(),
    values: value(['true', '12', '0x1f', '1000.5', '.inf', 'null', '~', '-0', '1e3', 'yes']),
    print: (steps) => printDottedPath(steps, yamlPaths),
    steps: (path) => stepsOf(readYamlPath(path)),
    reader: readYaml,
    reads: (asked) => {
      const item = (one: { text: string; literal?: boolean }): unknown =>
        one.literal === true ? readYaml(one.text) : one.text;
      return plainOf(asked.kind === 'scalar' ? item(asked) : asked.items.map(item));
    },
  },
];

const fresh = fc.array(
  fc.oneof(
    fc.constantFrom(
      'n',
      'new',
      'a',
      'b',
      'odd key',
      '12',
      'true',
      'é',
      'x.y',
      '',
      '__proto__',
      '"q"',
      '#',
      '- x',
      'k: v',
    ),
    fc.string({ maxLength: 4 }).filter((s) => !/\p{Surrogate}/u.test(s)),
  ),
  { minLength: 1, maxLength: 3 },
);
const pick = fc.nat(1000);

describe.each(syntaxes.map((of) => [of.syntax.name, of] as const))('%s', (_, of) => {
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
