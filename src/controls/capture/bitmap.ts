/** Most bits that a bitmap of the kernel's list can have (linux/input-event-codes.h: KEY_CNT, ABS_CNT, SW_CNT). */
export const bitmapBits = { KEY: 0x300, ABS: 0x40, SW: 0x11 } as const;

export type Bitmap =
  | { readonly kind: 'codes'; readonly codes: readonly number[] }
  | { readonly kind: 'bad'; readonly why: string; readonly wayOut: string };

/**
 * Decodes a bitmap of /proc/bus/input/devices: words of `wordSize` bits in hexadecimal, most significant first, leading
 * zero words dropped, not padded (drivers/input/input.c, Linux 6.1.192, lines 1070-1101).
 */
export function decodeBitmap(text: string, wordSize: 32 | 64, bits: number): Bitmap {
  const words = text.trim().split(/\s+/);
  const stray = words.find((word) => !/^[0-9a-f]+$/.test(word));
  if (stray !== undefined) {
    return {
      kind: 'bad',
      why: `${JSON.stringify(stray)} is no hexadecimal number`,
      wayOut: 'Paste the line anew as the device prints it: words of 0-9 and a-f with a blank between.',
    };
  }
  const digits = wordSize / 4;
  const long = words.find((word) => word.length > digits);
  if (long !== undefined) {
    return wordSize === 32
      ? {
          kind: 'bad',
          why: `the word ${long} is longer than 32 bits`,
          wayOut: 'Write word-size: 64 at the top, since such words come from 64 bits.',
        }
      : {
          kind: 'bad',
          why: `the word ${long} is longer than 64 bits`,
          wayOut: 'Put the blank back that is missing between two words.',
        };
  }
  const most = Math.ceil(bits / wordSize);
  if (words.length > most) {
    return {
      kind: 'bad',
      why: `${words.length} words of ${wordSize} bits are more than the ${most} there can be`,
      wayOut:
        wordSize === 64
          ? 'Write word-size: 32 at the top if the device runs with 32 bits; else paste the line anew.'
          : 'Paste the line anew as the device prints it.',
    };
  }
  const codes: number[] = [];
  words.toReversed().forEach((word, index) => {
    let rest = BigInt(`0x${word}`);
    for (let bit = index * wordSize; rest > 0n; bit++, rest >>= 1n) if ((rest & 1n) === 1n) codes.push(bit);
  });
  return { kind: 'codes', codes };
}

/** The inverse: how the kernel prints a set of codes. */
export function encodeBitmap(codes: Iterable<number>, wordSize: 32 | 64): string {
  let all = 0n;
  for (const code of codes) all |= 1n << BigInt(code);
  const words: string[] = [];
  for (; all > 0n; all >>= BigInt(wordSize)) words.push((all & ((1n << BigInt(wordSize)) - 1n)).toString(16));
  return words.length === 0 ? '0' : words.toReversed().join(' ');
}
