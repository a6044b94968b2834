/** What may stand between a key and its value: a few marks with the blanks around them, or a tab. */
const between = /[ \t]*[^\p{L}\p{N}\s'"()[\]{}]{1,3}[ \t]*|\t+/gu;

/** Marks that join the words of a name. */
const withinNames: ReadonlySet<string> = new Set(['-', '_', '.', '/', '\\', '@', '&']);

/** Lines that are looked at, the share of them that must show a separator, and of those that must differ before it. */
const looked = 400;
const most = 0.9;
const differ = 0.7;

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
  const shown = new Set(lines.flatMap((line) => [...line.matchAll(between)].flatMap(([match]) => parts(match))));
  const ranked = [...shown].flatMap((separator) => {
    const keys = lines.flatMap((line) => {
      const at = line.indexOf(separator);
      return at > 0 && line.slice(0, at).trim() !== '' ? [line.slice(0, at)] : [];
    });
    const named = new Set(keys).size;
    if (keys.length < lines.length * most || named < keys.length * differ) return [];
    // The one that stands first, and of those that stand there together the longest.
    const before = keys.reduce((sum, { length }) => sum + length, 0) / keys.length;
    return [{ separator, shown: keys.length, before }];
  });
  return ranked
    .sort((a, b) => b.shown - a.shown || a.before - b.before || b.separator.length - a.separator.length)
    .map(({ separator }) => separator)
    .slice(0, 3);
}

/** A run of marks, and what it begins with: behind a separator a value may begin with a mark of its own. */
function parts(match: string): readonly string[] {
  return Array.from({ length: match.length }, (_, at) => match.slice(0, at + 1)).filter(
    (part) => part.trim() !== '' && !withinNames.has(part),
  );
}
