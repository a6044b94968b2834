/**
 * Bytes to text and back without loss: UTF-8, each invalid byte B kept as the lone surrogate U+DC00 + B
 * (U+DC80..U+DCFF), the method of PEP 383. A byte-order mark stays in the text as U+FEFF.
 */
export function decodeBytes(bytes: Uint8Array): string {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = buffer.toString('utf8');
  // The replacement character appears for invalid bytes, and seldom for itself: only then look closer.
  if (!text.includes('\ufffd')) return text;
  return decodeSlowly(buffer);
}

function sequenceLength(bytes: Buffer, at: number): number {
  const first = bytes[at] ?? 0;
  if (first < 0x80) return 1;
  const [length, low, high] =
    first >= 0xc2 && first <= 0xdf
      ? [2, 0x80, 0xbf]
      : first === 0xe0
        ? [3, 0xa0, 0xbf]
        : first === 0xed
          ? [3, 0x80, 0x9f]
          : first >= 0xe1 && first <= 0xef
            ? [3, 0x80, 0xbf]
            : first === 0xf0
              ? [4, 0x90, 0xbf]
              : first >= 0xf1 && first <= 0xf3
                ? [4, 0x80, 0xbf]
                : first === 0xf4
                  ? [4, 0x80, 0x8f]
                  : [0, 0, 0];
  if (length === 0 || at + length > bytes.length) return 0;
  const second = bytes[at + 1] ?? 0;
  if (second < low || second > high) return 0;
  for (let k = 2; k < length; k++) if (((bytes[at + k] ?? 0) & 0xc0) !== 0x80) return 0;
  return length;
}

function decodeSlowly(bytes: Buffer): string {
  const parts: string[] = [];
  let from = 0;
  let at = 0;
  while (at < bytes.length) {
    const length = sequenceLength(bytes, at);
    if (length > 0) {
      at += length;
      continue;
    }
    parts.push(bytes.toString('utf8', from, at), String.fromCharCode(0xdc00 + (bytes[at] ?? 0)));
    at += 1;
    from = at;
  }
  parts.push(bytes.toString('utf8', from));
  return parts.join('');
}

/** The inverse of `decodeBytes`: `encodeText(decodeBytes(b))` equals `b` for every byte sequence. */
export function encodeText(text: string): Uint8Array {
  if (!/[\udc80-\udcff]/.test(text)) return Buffer.from(text, 'utf8');
  const parts: Uint8Array[] = [];
  let from = 0;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    if (unit >= 0xd800 && unit <= 0xdbff) {
      const next = text.charCodeAt(at + 1);
      if (next >= 0xdc00 && next <= 0xdfff) at += 1;
    } else if (unit >= 0xdc80 && unit <= 0xdcff) {
      parts.push(Buffer.from(text.slice(from, at), 'utf8'), Uint8Array.of(unit - 0xdc00));
      from = at + 1;
    }
  }
  parts.push(Buffer.from(text.slice(from), 'utf8'));
  return Buffer.concat(parts);
}
