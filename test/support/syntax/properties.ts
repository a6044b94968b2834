import fc from 'fast-check';
import { properties } from '../../../src/syntax/properties/properties.ts';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { joinLines, lineValues, newNames, writtenName, writtenValue } from './line-texts.ts';

/** A text in the format of `java.util.Properties`, escapes and continued lines included. */
function propertiesText(choose: Choices): SyntaxText {
  let notes = 0;
  const lines = Array.from({ length: choose.below(9) }, (): string => {
    const indent = choose.of('', '', ' ', '\t', '\f');
    const kind = choose.below(10);
    if (kind === 0) return choose.of('', '  ');
    if (kind === 1) return `${indent}${choose.of('#', '!')} note ${++notes}!`;
    if (kind === 2) return `#${choose.of('', ' ')}${choose.of('soft', 'hidden')}${choose.of('=', ': ')}x`;
    const name = choose.of(
      writtenName(choose),
      writtenName(choose),
      'odd\\ name',
      'a\\=b',
      'a\\:b',
      '\\u00e9',
      '\\#x',
      'con\\\n  tinued',
      '',
    );
    const separator = choose.of('=', ' = ', ': ', ':', ' ', '\t', ' \\\n  = ', '=\\\n  ');
    const value = choose.of(
      writtenValue(choose),
      'a\\tb',
      '\\u00e9\\n',
      'x\\\n   y',
      'tail  ',
      '\\ lead',
      'C:\\\\x',
      'odd\\q',
      'end\\\\',
    );
    return name === '' && separator.trim() === '' ? `${indent}k` : indent + name + separator + value;
  });
  const style = {
    ...(choose.rarely(3) ? { separator: choose.of('=', ' = ', ': ') } : {}),
    ...(choose.rarely(4) ? { duplicates: choose.of<'first' | 'last'>('first', 'last') } : {}),
    ...(choose.rarely(6) ? { lineEnd: 'crlf' as const } : {}),
  };
  return { text: joinLines(choose, lines), style };
}

export const propertiesGenerator: SyntaxGenerator = {
  syntax: properties,
  texts: choices(120).map(propertiesText),
  newPaths: fc.oneof(newNames, fc.constantFrom('', ' ', 'a b', '#k', '!k', 'a=c', 'x\ny', '\u0000', '\\')),
  values: lineValues,
  comments: (of) => of.match(/(?:^|(?<=[\r\n]))[ \t\f]*[#!] note \d+!/g) ?? [],
};
