import { pairs } from '../../../src/syntax/pairs/pairs.ts';
import type { Style } from '../../../src/syntax/contract.ts';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { joinLines, lineValues, newNames, writtenName, writtenValue } from './line-texts.ts';

/** A style as a dialect may say it; what it leaves open is detected. */
export function keyedStyle(choose: Choices, separator: string): Style {
  return {
    ...(choose.rarely(2) ? { separator } : {}),
    ...(choose.rarely(3) ? { comment: choose.of<string | readonly string[]>('#', ';', ['#', ';', '//']) } : {}),
    ...(choose.rarely(3) ? { inlineComments: true } : {}),
    ...(choose.rarely(2) ? { quote: choose.of('none', 'keep', 'keep', 'double', 'single') } : {}),
    ...(choose.rarely(4) ? { duplicates: choose.of('first', 'last') } : {}),
    ...(choose.rarely(4) ? { continuation: '\\' } : {}),
    ...(choose.rarely(4) ? { foldCase: true } : {}),
    ...(choose.rarely(6) ? { lineEnd: 'crlf' } : {}),
    ...(choose.rarely(6) ? { list: choose.of(',', ', ', ';') } : {}),
  };
}

/** The marks that begin comments under a style. */
export function marksOf({ comment = ['#', ';'] }: Style): readonly string[] {
  return typeof comment === 'string' ? [comment] : comment;
}

/** One line of a file of keys: most are keys. */
export function keyedLine(
  choose: Choices,
  separator: string,
  comments: { count: number; readonly marks: readonly string[] },
): string {
  const mark = choose.rarely(2) ? (comments.marks.at(-1) ?? '#') : (comments.marks[0] ?? '#');
  const note = (): string => `${mark} note ${++comments.count}!`;
  const indent = choose.of('', '', '', '  ', '\t');
  const kind = choose.below(12);
  if (kind === 0) return choose.of('', '', '  ', '\t');
  if (kind === 1) return indent + note();
  if (kind === 2)
    return `${mark}${choose.of('', ' ')}${choose.of('soft', 'hidden', 'video_new')}${separator}${writtenValue(choose)}`;
  if (kind === 3 && separator.trim() !== '') return choose.of('-----', '=====', '', '[a heading]');
  const value = writtenValue(choose);
  const core = separator.trim();
  const between =
    core === '' ? choose.of(separator, '  ', '\t') : choose.of(separator, separator, core, ` ${core} `, `${core}  `);
  const end = choose.rarely(8) ? choose.of(' ', '\t', ` ${note()}`) : '';
  const more = core !== '' && choose.rarely(12) ? '\\\n  part' : '';
  return indent + writtenName(choose) + between + value + end + more;
}

function text(choose: Choices): SyntaxText {
  const separator = choose.of(' = ', '=', ': ', ':', ' ');
  const style = keyedStyle(choose, separator);
  const comments = { count: 0, marks: marksOf(style) };
  const lines = Array.from({ length: choose.below(9) }, () => keyedLine(choose, separator, comments));
  return { text: joinLines(choose, lines), style };
}

export const pairsGenerator: SyntaxGenerator = {
  syntax: pairs,
  texts: choices(120).map(text),
  newPaths: newNames,
  values: lineValues,
  comments: (of) => of.match(/(?:^|(?<=[\r\n]))[ \t]*(?:[#;]|\/\/) note \d+!/g) ?? [],
};
