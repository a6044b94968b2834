/** How files begin that are no text, by their own formats' specifications. */
const beginnings: readonly (readonly [string, string])[] = [
  ['\x89PNG\r\n', 'a picture'],
  ['\xff\xd8\xff', 'a picture'],
  ['GIF8', 'a picture'],
  ['BM', 'a picture'],
  ['SQLite format 3\0', 'a database'],
  ['\x7fELF', 'a program'],
  ['PK\x03\x04', 'an archive'],
  ['\x1f\x8b', 'an archive'],
  ['OggS', 'a sound'],
  ['ID3', 'a sound'],
];

/** Names of files that programs write for people to read, never to be set. */
const logs = /\.(log|log\.\d+|out|err|trace|history)$/i;

/** Bytes of a file above which it is no configuration that a person could set. */
export const largestText = 1 << 20;

/** Why bytes are no configuration, as a noun ('a picture'); undefined where they may be one. */
export function whyLeftAlone(path: string, bytes: Uint8Array): string | undefined {
  const head = Buffer.from(bytes.subarray(0, 16)).toString('latin1');
  const known = beginnings.find(([beginning]) => head.startsWith(beginning));
  // Two letters are no proof: a text may begin so too.
  if (known !== undefined && (known[0] !== 'BM' || bytes.includes(0))) return known[1];
  if (bytes.includes(0)) return 'binary';
  if (logs.test(path)) return 'a log';
  return undefined;
}
