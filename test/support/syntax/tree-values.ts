import fc from 'fast-check';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import type { ParsedPath } from '../../../src/syntax/shared/dotted-path.ts';
import type { Step } from './edited-object.ts';

/** Texts that are easily taken for something else in one format or another. */
export const words = fc.oneof(
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

/** Values of a key: texts, bare values, lists of both. */
export function syntaxValues(literals: readonly [string, ...string[]]): fc.Arbitrary<SyntaxValue> {
  const scalar = fc.oneof(
    words.map((text) => ({ text })),
    fc.constantFrom(...literals).map((text) => ({ text, literal: true })),
  );
  return fc.oneof(
    { weight: 3, arbitrary: scalar.map((item): SyntaxValue => ({ kind: 'scalar', ...item })) },
    { weight: 1, arbitrary: fc.array(scalar, { maxLength: 4 }).map((items): SyntaxValue => ({ kind: 'list', items })) },
  );
}

/** Names for keys that most texts do not have. */
export const freshNames = fc.array(
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

export function stepsOf(path: ParsedPath): readonly Step[] {
  if (path.kind === 'bad') throw new Error(path.why);
  return path.steps;
}

/** Whether one key holds the other, or both lie in one list, whose items move when one goes. */
export function relatedPaths(a: string, b: string): boolean {
  const holds = (outer: string, inner: string): boolean =>
    outer === '.' || inner.startsWith(`${outer}.`) || inner.startsWith(`${outer}[`);
  const inOneList = (one: string, other: string): boolean => {
    const at = one.lastIndexOf('[');
    return at >= 0 && other.startsWith(one.slice(0, at + 1));
  };
  return holds(a, b) || holds(b, a) || inOneList(a, b) || inOneList(b, a);
}
