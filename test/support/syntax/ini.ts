import fc from 'fast-check';
import { ini } from '../../../src/syntax/ini/ini.ts';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { joinLines, lineValues, newNames } from './line-texts.ts';
import { keyedLine, keyedStyle, marksOf } from './pairs.ts';

function text(choose: Choices): SyntaxText {
  const separator = choose.of('=', ' = ', ': ');
  const style = {
    ...keyedStyle(choose, separator),
    ...(choose.rarely(3) ? { sections: choose.of<'merge' | 'first' | 'last'>('merge', 'first', 'last') } : {}),
  };
  const comments = { count: 0, marks: marksOf(style) };
  const lines = Array.from({ length: choose.below(4) }, () => keyedLine(choose, separator, comments));
  for (let k = choose.below(5); k > 0; k--) {
    if (choose.rarely(2)) lines.push('');
    lines.push(choose.of('[main]', '[video]', '[Main]', '[a "b"]', '[main]  ', '[x] ; note 0!', '[]', '[a]b]'));
    for (let n = choose.below(4); n > 0; n--) {
      lines.push(choose.rarely(10) ? choose.of('flag', '  lone word') : keyedLine(choose, separator, comments));
    }
  }
  return { text: joinLines(choose, lines), style };
}

export const iniGenerator: SyntaxGenerator = {
  syntax: ini,
  texts: choices(160).map(text),
  newPaths: fc
    .tuple(
      fc.constantFrom('[main] ', '[video] ', '[new] ', '[a "b"] ', '[] ', '', '[New] ', '[ x ] ', '[a]b] '),
      newNames,
    )
    .map((parts) => parts.join('')),
  values: lineValues,
  comments: (of) => of.match(/(?:^|(?<=[\r\n]))[ \t]*(?:[#;]|\/\/) note \d+!/g) ?? [],
};
