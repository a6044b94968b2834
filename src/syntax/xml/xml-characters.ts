const nameStart =
  ':A-Z_a-z\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02ff\\u0370-\\u037d\\u037f-\\u1fff\\u200c\\u200d\\u2070-\\u218f' +
  // The last range is bytes that are not UTF-8: letters of a text in another encoding.
  '\\u2c00-\\u2fef\\u3001-\\ud7ff\\uf900-\\ufdcf\\ufdf0-\\ufffd\\u{10000}-\\u{effff}\\udc80-\\udcff';

/** XML 1.0 (fifth edition) productions 4, 4a and 5, as the source of a `u` expression. */
export const nameCharacters = `${nameStart}\\-.0-9\\u00b7\\u0300-\\u036f\\u203f\\u2040`;
export const nameSource = `[${nameStart}][${nameCharacters}]*`;

/** A character that production 2 (Char) leaves out. */
export const notXmlCharacter = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/;

/** As above, and what stands for bytes that are not UTF-8: no value of ours may hold it. */
export const notXmlValue = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/u;

const predefined: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

export const isPredefined = (name: string): boolean => Object.hasOwn(predefined, name);

/** Whether production 2 has this code point. */
export function isXmlCodePoint(point: number): boolean {
  return (
    point === 9 ||
    point === 10 ||
    point === 13 ||
    (point >= 0x20 && point <= 0xd7ff) ||
    (point >= 0xe000 && point <= 0xfffd) ||
    (point >= 0x10000 && point <= 0x10ffff)
  );
}

function decodeReferences(raw: string): string {
  if (!raw.includes('&')) return raw;
  return raw.replace(
    /&(?:#x([0-9a-fA-F]+)|#([0-9]+)|([^;]+));/g,
    (all: string, hex?: string, decimal?: string, name?: string) => {
      if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
      if (decimal !== undefined) return String.fromCodePoint(Number.parseInt(decimal, 10));
      return predefined[name ?? ''] ?? all;
    },
  );
}

const lineEnds = (raw: string): string => (raw.includes('\r') ? raw.replace(/\r\n?/g, '\n') : raw);

/** Character data as a program reads it: line ends by section 2.11, references decoded. */
export function decodeText(raw: string): string {
  return decodeReferences(lineEnds(raw));
}

export function decodeCdata(raw: string): string {
  return lineEnds(raw);
}

/** An attribute's value as a program reads it that knows no types: section 3.3.3, CDATA. */
export function decodeAttribute(raw: string): string {
  return decodeReferences(/[\r\n\t]/.test(raw) ? raw.replace(/\r\n|[\r\n\t]/g, ' ') : raw);
}

/** @param ascii whether the text's encoding has no UTF-8 letters: they become references. */
export function encodeText(value: string, ascii: boolean): string {
  return letters(
    value.replace(/[&<\r]|\]\]>/g, (found) => textSpellings[found] ?? found),
    ascii,
  );
}

export function encodeAttribute(value: string, quote: string, ascii: boolean): string {
  return letters(
    value.replace(/[&<\r\n\t"']/g, (found) =>
      /["']/.test(found) && found !== quote ? found : (attributeSpellings[found] ?? found),
    ),
    ascii,
  );
}

function letters(text: string, ascii: boolean): string {
  return ascii ? text.replace(/[^\u0000-\u007f]/gu, (letter) => `&#${letter.codePointAt(0) ?? 0};`) : text;
}

const textSpellings: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '\r': '&#13;', ']]>': ']]&gt;' };
const attributeSpellings: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '"': '&quot;',
  "'": '&apos;',
  '\r': '&#13;',
  '\n': '&#10;',
  '\t': '&#9;',
};
