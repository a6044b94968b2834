import { describe, expect, it } from 'vitest';
import { detectFormat } from '../../../src/learn/copies/detect-format.ts';

const detected = (text: string, path = 'settings'): string | undefined =>
  detectFormat(path, [{ name: path, text }])?.syntax;

describe('the format of a file without a telling name', () => {
  it.each([
    ['toml', '[play]\nkeep = true\nlook = "plain"\nsince = 2031-04-01\nwindow = { w = 3 }\n'],
    ['yaml', 'play:\n  keep: true\n  look: plain\n'],
    ['ini', '[play]\nkeep=1\nlook=plain\n'],
    ['pairs', 'keep: on\nlook: plain and simple\n'],
    ['json', '{ "keep": true }\n'],
    ['xml', '<play><keep>yes</keep></play>\n'],
  ])('%s', (syntax, text) => {
    expect(detected(text)).toBe(syntax);
  });

  it('is none for prose', () => {
    expect(detected('It is only a text.\nNobody sets anything in it at all.\n')).toBeUndefined();
  });
});

describe('what stands between key and value', () => {
  it.each([
    [' > ', '-- what > is pressed\nleave game > B7\nsave state > up\npresses > 4\n'],
    [' -> ', 'leave game -> 7\nsave state -> 4 > 3\n'],
    [': ', 'leave game: B7\nsave state: up\npresses so far: 4\n'],
    [' = ', 'leave game = a > b\nsave state = up\n'],
  ])('is %j, whatever words the keys have', (separator, text) => {
    const format = detectFormat('presses.txt', [{ name: 'presses.txt', text }]);
    expect(format?.syntax).toBe('pairs');
    expect(format?.style.separator).toBe(separator);
  });
});
