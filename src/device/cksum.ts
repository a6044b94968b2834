/** By byte: the remainder of POSIX's polynomial. */
const table = Array.from({ length: 256 }, (_, byte) => {
  let value = byte << 24;
  for (let bit = 0; bit < 8; bit++) value = value < 0 ? (value << 1) ^ 0x04c11db7 : value << 1;
  return value;
});

/** What `cksum` prints of standard input: the check sum and the number of bytes (POSIX.1-2017, XCU cksum). */
export function cksum(bytes: Uint8Array): string {
  let sum = 0;
  const add = (byte: number): void => {
    sum = (sum << 8) ^ (table[(sum >>> 24) ^ byte] ?? 0);
  };
  for (const byte of bytes) add(byte);
  for (let left = bytes.length; left > 0; left = Math.floor(left / 256)) add(left & 0xff);
  return `${~sum >>> 0} ${bytes.length}`;
}
