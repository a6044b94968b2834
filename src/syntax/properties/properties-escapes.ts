const short: Readonly<Record<string, string>> = { t: '\t', n: '\n', r: '\r', f: '\f' };

/** Takes escapes and line continuations off, by the rules of `java.util.Properties.load`. */
export function unescapeText(spelled: string): string {
  if (!spelled.includes('\\')) return spelled;
  // Lines are joined first: an escape may begin on one and end on the next.
  const line = /[\r\n]/.test(spelled)
    ? spelled.replace(/\\(?:(?:\r\n|\n|\r)[ \t\f]*|[^])/g, (pair) => (/^\\[\r\n]/.test(pair) ? '' : pair))
    : spelled;
  return line.replace(/\\(?:u([0-9A-Fa-f]{4})|([^])|$)/g, (_, digits?: string, character?: string) => {
    if (digits !== undefined) return String.fromCharCode(Number.parseInt(digits, 16));
    return character === undefined ? '' : (short[character] ?? character);
  });
}

/**
 * Escapes as `java.util.Properties.store` does: short ones for tab, line ends and form feed, \uXXXX for all that is not
 * printable ASCII, so that it reads the same as UTF-8 and as ISO 8859-1. Bytes that are no UTF-8 stay as they are.
 */
function escapeCharacters(text: string): string {
  return text.replace(/[\\\t\n\r\f]|[^\u0020-\u007e\udc80-\udcff]|[\ud800-\udbff][\udc80-\udcff]/g, (found) => {
    const name = { '\\': '\\', '\t': 't', '\n': 'n', '\r': 'r', '\f': 'f' }[found];
    if (name !== undefined) return `\\${name}`;
    return [...Array(found.length).keys()]
      .map((k) => `\\u${found.charCodeAt(k).toString(16).toUpperCase().padStart(4, '0')}`)
      .join('');
  });
}

/** A value: only blanks at its beginning need an escape of their own. */
export function escapeValue(value: string): string {
  return escapeCharacters(value).replace(/^ +/, (blanks) => '\\ '.repeat(blanks.length));
}

/** A key: every blank, `=` and `:`, and a comment mark at its beginning. */
export function escapeKey(name: string): string {
  return escapeCharacters(name)
    .replace(/[ =:]/g, (mark) => `\\${mark}`)
    .replace(/^[#!]/, (mark) => `\\${mark}`);
}
