/** One step of a dotted path: a key by name, or an item of a sequence by its index from 0. */
export type PathStep = string | number;

/** How one syntax's dotted paths differ: which names may stand without quotes. */
export interface PathGrammar {
  /** Matches the whole of a bare name at `lastIndex` (sticky). */
  readonly bare: RegExp;
}

/** TOML 1.0 "Keys": bare keys are A-Z a-z 0-9 - _. */
export const tomlPaths: PathGrammar = { bare: /[A-Za-z0-9_-]+/y };

/** YAML names: anything but dots, brackets, quotes, blanks and control characters. */
export const yamlPaths: PathGrammar = { bare: /[^\s.[\]"'\u0000-\u001f\u007f]+/y };

const basic = /"(?:[^"\\\u0000-\u0008\u000a-\u001f\u007f]|\\(?:[btnfr"\\]|u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}))*"/y;
const single = /'[^'\u0000-\u0008\u000a-\u001f\u007f]*'/y;
const index = /\[(0|[1-9][0-9]{0,8})\]/y;

const escapes: Readonly<Record<string, string>> = {
  b: '\b',
  t: '\t',
  n: '\n',
  f: '\f',
  r: '\r',
  '"': '"',
  '\\': '\\',
};

/** The text of a basic string's inside, escapes taken off. Undefined when a `\U` names no character. */
function unescape(inside: string): string | undefined {
  let bad = false;
  const text = inside.replace(
    /\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))/gs,
    (_, u?: string, U?: string, c?: string) => {
      if (c !== undefined) return escapes[c] ?? c;
      const point = Number.parseInt(u ?? U ?? '', 16);
      if (point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff)) bad = true;
      return bad ? '' : String.fromCodePoint(point);
    },
  );
  return bad ? undefined : text;
}

export type ParsedPath =
  { readonly kind: 'path'; readonly steps: readonly PathStep[] } | { readonly kind: 'bad'; readonly why: string };

/** Why steps cannot be given to something new: an index only finds what is there. */
export function notNamed(steps: readonly PathStep[]): string | undefined {
  return steps.some((step) => typeof step === 'number') ? 'An index can only name an item that is there.' : undefined;
}

function match(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

/**
 * Reads a dotted path:
 *
 *     path  = ( name | index ) *( "." name | index )
 *     name  = bare | "basic string" | 'literal string'      (strings as TOML 1.0 writes them)
 *     index = "[" digits "]"                                 from 0, no leading zeros
 *
 * Blanks around dots are not allowed. A path may begin with an index (YAML: the root is a sequence).
 */
export function readDottedPath(path: string, grammar: PathGrammar): ParsedPath {
  const steps: PathStep[] = [];
  let at = 0;
  if (path === '') return { kind: 'bad', why: 'The path is empty.' };
  while (at < path.length) {
    const number = match(index, path, at);
    if (number !== undefined) {
      steps.push(Number(number.slice(1, -1)));
      at += number.length;
      continue;
    }
    if (path[at] === '[') {
      return { kind: 'bad', why: `At character ${at + 1}, a bracket must hold an index such as [0].` };
    }
    if (steps.length > 0) {
      if (path[at] !== '.') return { kind: 'bad', why: `At character ${at + 1}, a dot or [index] is expected.` };
      at += 1;
    }
    const quoted = match(basic, path, at) ?? match(single, path, at);
    if (quoted !== undefined) {
      const inside = quoted.slice(1, -1);
      const name = quoted.startsWith('"') ? unescape(inside) : inside;
      if (name === undefined) return { kind: 'bad', why: `At character ${at + 1}, an escape names no character.` };
      steps.push(name);
      at += quoted.length;
      continue;
    }
    if (path[at] === '"' || path[at] === "'") {
      return { kind: 'bad', why: `At character ${at + 1}, a quoted name is not closed or not well formed.` };
    }
    const name = match(grammar.bare, path, at);
    if (name === undefined) {
      return { kind: 'bad', why: `At character ${at + 1}, a name is missing, or needs quotes: "odd name".` };
    }
    steps.push(name);
    at += name.length;
  }
  return { kind: 'path', steps };
}

/** A double-quoted name as `readDottedPath` and TOML's basic strings read it. */
export function quoteName(name: string): string {
  // Lone surrogates stand for bytes that are no UTF-8: they have no escape and are kept as they are.
  const inside = name.replace(/[\u0000-\u001f"\\\u007f]/g, (c) => {
    const short = { '\b': 'b', '\t': 't', '\n': 'n', '\f': 'f', '\r': 'r', '"': '"', '\\': '\\' }[c];
    return short === undefined ? `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}` : `\\${short}`;
  });
  return `"${inside}"`;
}

/** A name bare where the grammar allows it, else quoted. */
function printName(name: string, grammar: PathGrammar): string {
  return match(grammar.bare, name, 0) === name && name !== '' ? name : quoteName(name);
}

/** The path in its one canonical spelling. */
export function printDottedPath(steps: readonly PathStep[], grammar: PathGrammar): string {
  return steps.reduce<string>(
    (path, step) =>
      path + (typeof step === 'number' ? `[${step}]` : (path === '' ? '' : '.') + printName(step, grammar)),
    '',
  );
}
