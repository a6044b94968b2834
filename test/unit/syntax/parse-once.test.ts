import { expect, test } from 'vitest';
import { pairs } from '../../../src/syntax/pairs/pairs.ts';
import { parsingOnce } from '../../../src/syntax/parse-once.ts';

test('a text is parsed once in each style, and another text of the same words anew', () => {
  let parses = 0;
  const counted = parsingOnce({
    ...pairs,
    parse: (source, style) => {
      parses += 1;
      return pairs.parse(source, style);
    },
  });
  const source = { name: 'play.conf', text: 'speed = 2\n' };
  const first = counted.parse(source, { separator: '=' });
  expect(counted.parse(source, { separator: '=' })).toBe(first);
  expect(parses).toBe(1);
  expect(counted.parse(source, { separator: ':' })).not.toBe(first);
  expect(counted.parse({ ...source }, { separator: '=' })).not.toBe(first);
  expect(parses).toBe(3);
  expect(first.tree?.get('speed')).toEqual(pairs.parse(source, { separator: '=' }).tree?.get('speed'));
});
