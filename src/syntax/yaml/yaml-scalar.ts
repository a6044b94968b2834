import type { YamlStyle } from './yaml-model.ts';

/** What a scalar is: its text, and whether it is bare (null, a boolean, a number) and not a string. */
export interface YamlText {
  readonly text: string;
  readonly literal?: boolean;
}

/** Where a scalar is written: inside brackets more characters need quotes. */
export interface YamlSpot {
  readonly flow: boolean;
  readonly like: YamlStyle | undefined;
}

// YAML 1.2.2, 10.3.2 "Tag Resolution" of the core schema.
const nulls = /^(?:null|Null|NULL|~)$/;
const booleans = /^(?:true|True|TRUE|false|False|FALSE)$/;
const integers = /^(?:[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+)$/;
const floats =
  /^(?:[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN))$/;
// Words and numbers that readers of YAML 1.1 take for something else (yaml.org/type, of 1.1).
const older =
  /^(?:y|n|yes|no|on|off|[-+]?0b[01_]+|[-+]?0x[0-9a-f_]+|[-+]?[0-9][0-9_]*(?:\.[0-9_]*)?(?:e[-+]?[0-9]+)?|[-+]?\.[0-9_]+(?:e[-+]?[0-9]+)?|[-+]?[0-9][0-9_]*(?::[0-5]?[0-9])+(?:\.[0-9_]*)?|\d{4}-\d\d?-\d\d?.*|=|<<)$/i;

function normalLiteral(text: string): string | undefined {
  if (nulls.test(text)) return 'null';
  if (booleans.test(text)) return text.toLowerCase();
  if (integers.test(text)) {
    const value = /^[-+]/.test(text) ? BigInt(text.slice(1)) * (text.startsWith('-') ? -1n : 1n) : BigInt(text);
    return `integer ${value}`;
  }
  if (!floats.test(text)) return undefined;
  const small = text.toLowerCase();
  if (small.endsWith('nan')) return 'float nan';
  if (small.endsWith('inf')) return small.startsWith('-') ? 'float -inf' : 'float inf';
  const value = Number(small);
  return `float ${Object.is(value, -0) ? '-0' : value}`;
}

/** Equal as a YAML reader sees them: `0x10` is `16`, `~` is `null`; `"1"` is not `1`, and `1` is not `1.0`. */
export function sameYamlScalar(a: YamlText, b: YamlText): boolean {
  if ((a.literal ?? false) !== (b.literal ?? false)) return false;
  if (a.text === b.text) return true;
  const first = a.literal === true ? normalLiteral(a.text) : undefined;
  return first !== undefined && first === normalLiteral(b.text);
}

/** Whether a text may stand without quotes and is then read as that string, by YAML 1.2 and 1.1 readers. */
export function isPlainSafe(text: string, flow: boolean): boolean {
  if (!/^[\p{L}\p{N}_./\\(^;~+$<-]/u.test(text) || /\s$/.test(text)) return false;
  if (/^(?:[-.]{3}|-$|-\s)/.test(text) || /[\u0000-\u001f\u007f-\u00a0\u2028\u2029\ufeff\ufffe\uffff]/.test(text))
    return false;
  if (/ #|:(?: |$)/.test(text) || text.length > 1000) return false;
  if (flow && /[,[\]{}]|:/.test(text)) return false;
  return normalLiteral(text) === undefined && !older.test(text);
}

export type WrittenYaml =
  { readonly kind: 'text'; readonly text: string } | { readonly kind: 'cannot'; readonly why: string };

const loneSurrogate = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

/** A double-quoted scalar on one line. */
export function doubleQuoted(text: string): string {
  const short: Readonly<Record<string, string>> = {
    '\0': '0',
    '\b': 'b',
    '\t': 't',
    '\n': 'n',
    '\f': 'f',
    '\r': 'r',
    '"': '"',
    '\\': '\\',
    '\u0085': 'N',
    '\u00a0': '_',
  };
  const inside = text.replace(/[\u0000-\u001f"\\\u007f-\u00a0\u2028\u2029\ufeff\ufffe\uffff]/g, (c) => {
    const name = short[c];
    if (name !== undefined) return `\\${name}`;
    const code = c.charCodeAt(0).toString(16);
    return code.length <= 2 ? `\\x${code.padStart(2, '0')}` : `\\u${code.padStart(4, '0')}`;
  });
  return `"${inside}"`;
}

/** A scalar on one line, quoted like its neighbours where that can carry it. */
export function writeYamlScalar(value: YamlText, spot: YamlSpot): WrittenYaml {
  const { text } = value;
  if (value.literal === true) {
    if (normalLiteral(text) === undefined)
      return { kind: 'cannot', why: 'YAML 1.2 has no such number, boolean or null.' };
    return { kind: 'text', text };
  }
  if (loneSurrogate.test(text))
    return { kind: 'cannot', why: 'It holds bytes that are not UTF-8, which YAML forbids.' };
  const { like, flow } = spot;
  if (like === 'single' && /^[^\u0000-\u001f\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]*$/.test(text)) {
    return { kind: 'text', text: `'${text.replaceAll("'", "''")}'` };
  }
  if (like !== 'single' && like !== 'double' && isPlainSafe(text, flow)) return { kind: 'text', text };
  return { kind: 'text', text: doubleQuoted(text) };
}

/**
 * The text of a block scalar after its header line's indicator: `|` or `>` with its chomping, and its lines.
 * Undefined when a block scalar of this style cannot carry the text.
 */
export function blockScalar(text: string, style: 'literal' | 'folded', indent: string): readonly string[] | undefined {
  const body = text.replace(/\n+$/, '');
  const ends = text.length - body.length;
  if (
    body === '' ||
    /^[ \n]/.test(body) ||
    /[^\n -\u007e\u00a1-\ud7ff\ue000-\ufefe\uff00-\ufffd\ud800-\udfff]/.test(text)
  )
    return undefined;
  if (loneSurrogate.test(text)) return undefined;
  const folded = style === 'folded' && !body.includes('\n') && !/^\s|\s$/.test(body);
  const chomp = ends === 0 ? '-' : ends === 1 ? '' : '+';
  const lines = body.split('\n');
  if (lines.some((line) => line !== '' && line.trim() === '')) return undefined;
  const blanks = Array.from({ length: Math.max(0, ends - 1) }, () => '');
  return [(folded ? '>' : '|') + chomp, ...lines.map((line) => (line === '' ? '' : indent + line)), ...blanks];
}
