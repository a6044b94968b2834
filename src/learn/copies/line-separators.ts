/** What may stand between a key and its value: a few marks with the blanks around them, or a tab. */
const between = /[ \t]*[^\p{L}\p{N}\s'"()[\]{}]{1,3}[ \t]*|\t+/gu;

/** Lines that are looked at, and the share of them that must show a separator. */
const looked = 400;
const most = 0.9;

/**
 * Separators that nearly every line shows, `said` aside: what stands before their first place in a line differs from line to
 * line, as names do. Delimiters are told from examples as wrappers are (Kushmerick, 'Wrapper induction for information
 * extraction', 1997): of the strings that all lines have in common, the one that stands first in most. `marks`: beginnings
 * of lines that are comments.
 */
export function lineSeparators(text: string, marks: readonly string[]): readonly string[] {
  const lines = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== '' && !marks.some((mark) => line.trimStart().startsWith(mark)))
    .slice(0, looked);
  if (lines.length < 2) return [];
  const shown = new Map<string, { first: number; readonly keys: Set<string>; all: number }>();
  for (const line of lines) {
    const seen = new Set<string>();
    const found = [...line.matchAll(between)].filter(({ index }) => line.slice(0, index).trim() !== '');
    for (const [at, match] of found.entries()) {
      const [separator] = match;
      if (seen.has(separator)) continue;
      seen.add(separator);
      const known = shown.get(separator) ?? { first: 0, keys: new Set<string>(), all: 0 };
      shown.set(separator, known);
      known.all += 1;
      known.first += at === 0 ? 1 : 0;
      known.keys.add(line.slice(0, match.index));
    }
  }
  return [...shown]
    .filter(([, { all, keys }]) => all >= lines.length * most && keys.size >= all * most)
    .sort(([, a], [, b]) => b.first - a.first || b.all - a.all)
    .map(([separator]) => separator)
    .slice(0, 3);
}
