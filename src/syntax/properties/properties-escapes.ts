/** Escapes of Java properties files, after java.util.Properties.load(Reader) (Java SE 17 API). */
const letters: Readonly<Record<string, string>> = { t: '\t', n: '\n', r: '\r', f: '\f' };

/** Takes escapes off; a backslash before any other character is dropped. */
export function unescapeProperty(raw: string): string {
  return raw.replace(/\\(?:u([0-9a-fA-F]{4})|(\r\n|\n|\r)[ \t\f]*|([\s\S])|$)/g, (_all, hex?: string, end?: string, letter?: string) => {
    if (hex !== undefined) return String.fromCharCode(Number.parseInt(hex, 16));
    if (end !== undefined || letter === undefined) return '';
    return letters[letter] ?? letter;
  });
}

const written: Readonly<Record<string, string>> = { '\\': '\\\\', '\t': '\\t', '\n': '\\n', '\r': '\\r', '\f': '\\f' };

export function escapePropertyValue(text: string): string {
  return text.replace(/[\\\t\n\r\f]|^ /g, (c) => written[c] ?? `\\${c}`);
}

export function escapePropertyKey(text: string): string {
  return text.replace(/[\\\t\n\r\f :=]|^[#!]/g, (c) => written[c] ?? `\\${c}`);
}
