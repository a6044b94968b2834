import fc from 'fast-check';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import { lines } from '../../../src/syntax/lines/lines.ts';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { joinLines } from './line-texts.ts';

const written = ['a', 'b', 'a b', ' indented', '/a/b', 'é', '\udce9', 'trail ', '= x', '__proto__', '\u0000'] as const;

function text(choose: Choices): SyntaxText {
  let notes = 0;
  const mark = choose.of('#', '#', ';');
  const rows = Array.from({ length: choose.below(9) }, () => {
    if (choose.rarely(5)) return choose.of('', '  ', `${mark} note ${++notes}!`, '#soft', '# hidden');
    return choose.of(...written);
  });
  const style = {
    ...(mark === ';' || choose.rarely(3) ? { comment: mark } : {}),
    ...(choose.rarely(2) ? { siblings: choose.of<'end' | 'start' | 'sorted'>('end', 'start', 'sorted') } : {}),
    ...(choose.rarely(6) ? { lineEnd: 'crlf' as const } : {}),
  };
  return { text: joinLines(choose, rows), style };
}

export const linesGenerator: SyntaxGenerator = {
  syntax: lines,
  texts: choices(60).map(text),
  newPaths: fc.oneof(
    fc.constantFrom('new', 'soft', 'hidden', '#x', '', ' ', 'aa', '0'),
    fc.string({ minLength: 1, maxLength: 6 }),
  ),
  values: fc.oneof(
    { weight: 5, arbitrary: fc.constant<SyntaxValue>({ kind: 'scalar', text: 'present' }) },
    { weight: 1, arbitrary: fc.constant<SyntaxValue>({ kind: 'scalar', text: 'other' }) },
  ),
  comments: (of) => of.match(/(?:^|(?<=[\r\n]))[#;] note \d+!/g) ?? [],
};

function keyedText(choose: Choices): SyntaxText {
  let notes = 0;
  const rows = Array.from({ length: choose.below(9) }, () => {
    if (choose.rarely(5)) return choose.of('', '  ', `# note ${++notes}!`, '#a,1', '# hidden,2');
    const key = choose.of(...written);
    return choose.rarely(6) ? key : `${key},${choose.of('', 'x', 'x,y:1,', ' a b ', 'é', '#', '\t')}`;
  });
  const style = {
    separator: ',',
    ...(choose.rarely(2) ? { duplicates: choose.of<'first' | 'last'>('first', 'last') } : {}),
    ...(choose.rarely(2) ? { siblings: choose.of<'end' | 'start' | 'sorted'>('end', 'start', 'sorted') } : {}),
    ...(choose.rarely(6) ? { lineEnd: 'crlf' as const } : {}),
  };
  return { text: joinLines(choose, rows), style };
}

/** Lines that are named by what stands before a separator. */
export const keyedLinesGenerator: SyntaxGenerator = {
  syntax: lines,
  texts: choices(60).map(keyedText),
  newPaths: linesGenerator.newPaths,
  values: fc.oneof(
    fc
      .constantFrom('x', '', 'x,y:1,', ' a b ', 'a\nb', '\t')
      .map((one): SyntaxValue => ({ kind: 'scalar', text: one })),
    fc.constant<SyntaxValue>({ kind: 'list', items: [{ text: 'x' }] }),
  ),
  comments: linesGenerator.comments,
};
