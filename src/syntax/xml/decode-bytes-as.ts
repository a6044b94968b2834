import { encodeText } from '../../text/encoding.ts';

/** The decoder of an encoding that is no UTF-8 and keeps ASCII, by the WHATWG Encoding Standard; else undefined. */
export function otherEncoding(name: string | undefined): string | undefined {
  if (name === undefined || name === 'UTF-8' || name === 'UTF8' || name === 'US-ASCII' || name === 'ASCII')
    return undefined;
  try {
    const { encoding } = new TextDecoder(name);
    return encoding === 'utf-8' || encoding.startsWith('utf-16') ? undefined : encoding;
  } catch {
    return undefined;
  }
}

/** A part of a text as a program reads it that heeds the encoding which the text declares. */
export function decodeBytesAs(text: string, encoding: string | undefined): string {
  if (encoding === undefined || !/[^\u0000-\u007f]/.test(text)) return text;
  const decoder = otherEncoding(encoding);
  return decoder === undefined ? text : new TextDecoder(decoder).decode(encodeText(text));
}
