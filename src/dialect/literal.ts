import type { SyntaxName, SyntaxValue } from '../syntax/contract.ts';

/** JSON's literals (RFC 8259, sections 3 and 6); TOML and YAML read them alike. */
const literal = /^(?:true|false|-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)$/;
/** What people write is a text, even where it looks like a number: a name, an account, a folder. */
const texts: ReadonlySet<string> = new Set(['text', 'path', 'list']);

/**
 * Marks what a json, toml or yaml file holds bare (`true`, `12`) rather than as a string: as the dialect's `as` says,
 * else whatever is spelled as a literal, texts, paths and lists aside. Other syntaxes know no difference.
 */
export function finishValue(
  value: SyntaxValue,
  as: 'string' | 'number' | 'boolean' | undefined,
  syntax: SyntaxName,
  codec: string,
): SyntaxValue {
  if (syntax !== 'json' && syntax !== 'toml' && syntax !== 'yaml') return value;
  const bare = as === undefined ? !texts.has(codec) : as !== 'string';
  if (!bare) return value;
  const mark = (text: string): { text: string; literal?: boolean } =>
    literal.test(text) ? { text, literal: true } : { text };
  return value.kind === 'scalar'
    ? { kind: 'scalar', ...mark(value.text) }
    : { kind: 'list', items: value.items.map((item) => mark(item.text)) };
}
