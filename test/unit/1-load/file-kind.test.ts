import { describe, expect, it } from 'vitest';
import { firstKey, kindOf } from '../../../src/1-load/file-kind.ts';

describe('the kind of a file', () => {
  it.each([
    ['profile: fen\nformat: 1\n', 'profile'],
    ['# note\n%YAML 1.2\n---\nhouse: it\n', 'house'],
    ['\ufeff"dialect": harrow\n', 'dialect'],
    ['{"profile":"fen","format":1}\n', 'profile'],
    ['{ house: it, format: 1 }\n', 'house'],
    ['{\n  "catalog": "shelf"\n}\n', 'catalog'],
    ['{\n  # note\n  profile: fen\n}\n', 'profile'],
  ])('is its first key, in block style and in flow style: %j', (text, kind) => {
    expect(kindOf(text)).toBe(kind);
  });

  it.each(['', '# nothing\n', '- profile: fen\n', '{}', '[profile]', 'just text\n'])('is none in %j', (text) => {
    expect(firstKey(text)).toBeUndefined();
  });
});
