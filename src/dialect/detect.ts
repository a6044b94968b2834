/** Characters of a card's text in which a version is looked for. */
const longest = 1024 * 1024;

/**
 * What is wrong with a `detect` pattern, as a clause; undefined when nothing is. Patterns are matched by an engine whose
 * time is linear in the text, so nested repetition is harmless; what such an engine cannot do is refused.
 */
export function badPattern(pattern: string): string | undefined {
  if (pattern.length > 500) return 'it is longer than 500 characters';
  try {
    new RegExp(pattern, 'u');
  } catch {
    return 'it is no regular expression';
  }
  // Escaped characters and classes say nothing about the groups around them.
  const bare = pattern.replace(/\\[^kKpPuUxX1-9]/g, '').replace(/\[(?:\\.|[^\]\\])*\]/g, '');
  if (/\(\?<?[=!]/.test(bare)) return 'it looks ahead or behind, which takes time without bound';
  if (/\\[1-9k]/.test(bare)) return 'it refers back to a group, which takes time without bound';
  const counts = [...bare.matchAll(/\{(\d+)(?:,(\d*))?\}/g)].map((match) =>
    Math.max(Number(match[1]), Number(match[2] ?? 0)),
  );
  if (counts.reduce((product, count) => product * Math.max(1, count), 1) > 1000)
    return 'its counts multiply to more than 1000 repetitions';
  if (!/\((?!\?)/.test(bare)) return 'it has no group that holds the version';
  return undefined;
}

/**
 * The version that a text of the card tells: the first group of the first match, trimmed; undefined when there is none
 * or the pattern is refused. RE2's engine is loaded only here: most verbs never read a version off a card.
 */
export async function detectVersion(pattern: string, text: string): Promise<string | undefined> {
  if (badPattern(pattern) !== undefined) return undefined;
  const { RE2JS, RE2JSException } = await import('re2js');
  try {
    const matcher = RE2JS.compile(pattern, RE2JS.MULTILINE).matcher(text.slice(0, longest));
    if (!matcher.find()) return undefined;
    const version = matcher.group(1)?.trim() ?? '';
    // It becomes part of messages and of comparisons: one line of printable characters.
    return /^[^\s\p{C}](?:[^\p{C}]{0,78}[^\s\p{C}])?$/u.test(version) ? version : undefined;
  } catch (error) {
    if (error instanceof RE2JSException) return undefined;
    throw error;
  }
}
