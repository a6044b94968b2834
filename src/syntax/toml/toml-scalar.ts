import { quoteName } from '../shared/dotted-path.ts';

/** What a scalar is: its text, and whether it is bare (a number, boolean, date) and not a string. */
export interface TomlText {
  readonly text: string;
  readonly literal?: boolean;
}

/** The four ways of writing a string, by their opening quotes. */
export type TomlQuote = '"' | "'" | '"""' | "'''";

const integer =
  /^[+-]?(?:0|[1-9](?:_?[0-9])*)$|^0x[0-9A-Fa-f](?:_?[0-9A-Fa-f])*$|^0o[0-7](?:_?[0-7])*$|^0b[01](?:_?[01])*$/;
const float =
  /^[+-]?(?:(?:0|[1-9](?:_?[0-9])*)(?:\.[0-9](?:_?[0-9])*(?:[eE][+-]?[0-9](?:_?[0-9])*)?|[eE][+-]?[0-9](?:_?[0-9])*)|inf|nan)$/;
const date = /^(?:(\d{4})-(\d{2})-(\d{2}))?(?:([Tt ])?(\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?([Zz]|[+-]\d{2}:\d{2})?)?$/;

/** A bare value in a form in which equal values are equal texts; undefined when TOML 1.0 has no such value. */
function normalLiteral(text: string): string | undefined {
  if (text === 'true' || text === 'false') return text;
  if (integer.test(text)) {
    const digits = text.replaceAll('_', '').replace(/^\+/, '');
    const value = digits.startsWith('-') ? -BigInt(digits.slice(1)) : BigInt(digits);
    return `integer ${value}`;
  }
  if (float.test(text)) {
    const value = Number(
      text
        .replaceAll('_', '')
        .replace(/inf$/, 'Infinity')
        .replace(/nan$/, 'NaN')
        .replace(/^\+(?=NaN)/, ''),
    );
    return Number.isNaN(value) ? 'float nan' : `float ${Object.is(value, -0) ? '-0' : value}`;
  }
  return normalDate(text);
}

function normalDate(text: string): string | undefined {
  const parts = date.exec(text);
  if (parts === null || text === '') return undefined;
  const [, year, month, day, between, hour, minute, second, fraction = '', offset = ''] = parts;
  if (year === undefined ? between !== undefined || offset !== '' : (hour !== undefined) !== (between !== undefined)) {
    return undefined;
  }
  if (year !== undefined) {
    const days = new Date(Date.UTC(2000 + (Number(year) % 400), Number(month), 0)).getUTCDate();
    if (Number(month) < 1 || Number(month) > 12 || Number(day) < 1 || Number(day) > days) return undefined;
  }
  // RFC 3339 allows a leap second.
  if (hour !== undefined && (Number(hour) > 23 || Number(minute) > 59 || Number(second) > 60)) return undefined;
  const zone = /^[+-](\d\d):(\d\d)$/.exec(offset);
  if (zone !== null && (Number(zone[1]) > 23 || Number(zone[2]) > 59)) return undefined;
  const time = hour === undefined ? '' : `T${hour}:${minute}:${second}.${fraction.replace(/0+$/, '')}`;
  const shift = /^(?:[Zz]|[+-]00:00)$/.test(offset) ? 'Z' : offset;
  return `date ${year === undefined ? '' : `${year}-${month}-${day}`}${time}${shift}`;
}

/** Equal as a TOML reader sees them: `1_000` is `1000`, `0x10` is `16`; `"1"` is not `1`, and `1` is not `1.0`. */
export function sameTomlScalar(a: TomlText, b: TomlText): boolean {
  if ((a.literal ?? false) !== (b.literal ?? false)) return false;
  if (a.text === b.text) return true;
  const first = a.literal === true ? normalLiteral(a.text) : undefined;
  return first !== undefined && first === normalLiteral(b.text);
}

/** The quotes of a string as it stands in the text; undefined for what is none. */
export function tomlQuoteOf(raw: string): TomlQuote | undefined {
  for (const quote of ['"""', "'''", '"', "'"] as const) if (raw.startsWith(quote)) return quote;
  return undefined;
}

export type WrittenToml =
  { readonly kind: 'text'; readonly text: string } | { readonly kind: 'cannot'; readonly why: string };

const loneSurrogate = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

/**
 * Writes a scalar. `like` is the quoting to follow where it can carry the value; `newLines`: whether a line end may
 * stand in a multi-line string as it is (it may not where the file's line ends are not LF).
 */
export function writeTomlScalar(value: TomlText, like: TomlQuote | undefined, newLines: boolean): WrittenToml {
  const { text } = value;
  if (value.literal === true) {
    const known = normalLiteral(text);
    if (known === undefined) {
      const why = text === 'null' ? 'TOML has no null.' : 'TOML has no such number, boolean, date or time.';
      return { kind: 'cannot', why };
    }
    const big = known.startsWith('integer ') ? BigInt(known.slice(8)) : 0n;
    if (BigInt.asIntN(64, big) !== big) return { kind: 'cannot', why: 'TOML whole numbers have 64 bits.' };
    return { kind: 'text', text };
  }
  if (loneSurrogate.test(text))
    return { kind: 'cannot', why: 'It holds bytes that are not UTF-8, which TOML forbids.' };
  if (like === "'" && !/['\u0000-\u0008\u000a-\u001f\u007f]/.test(text)) return { kind: 'text', text: `'${text}'` };
  if (newLines && text.includes('\n')) {
    if (like === "'''" && !/'''|'$|[\u0000-\u0008\u000b-\u001f\u007f]/.test(text)) {
      return { kind: 'text', text: `'''\n${text}'''` };
    }
    if (like === '"""') {
      const inside = text
        .split('\n')
        .map((line) => quoteName(line).slice(1, -1))
        .join('\n');
      return { kind: 'text', text: `"""\n${inside}"""` };
    }
  }
  return { kind: 'text', text: quoteName(text) };
}
