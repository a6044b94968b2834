/**
 * A reader of `key: value` lines, written for the tests alone and sharing nothing with the product's: a line that begins with
 * `;` or `[` and an empty one say nothing; the first colon divides; of two lines with one key the last is taken.
 */
export function readPairs(text: string): ReadonlyMap<string, string> {
  const pairs = new Map<string, string>();
  for (const line of text.split('\n').map((each) => each.trim())) {
    if (line === '' || line.startsWith(';') || line.startsWith('[')) continue;
    const colon = line.indexOf(':');
    if (colon < 1) throw new Error(`Neither a pair, a remark nor a heading: ${line}`);
    pairs.set(line.slice(0, colon).trim(), line.slice(colon + 1).trim());
  }
  return pairs;
}
