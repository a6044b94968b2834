import { afterLineEnd, firstLine, isBlank, lineStop, skipBlanks } from './physical-lines.ts';

/** What stands between key and value, blanks around it aside: `=`, `:`, or `` for blanks alone. */
export type SeparatorCore = string;

/** How many lines are looked at: enough to know, and it keeps long files cheap. */
const looked = 400;

/**
 * The separator that a line shows, judged by what follows its first word, so that no value can sway it. Undefined for a
 * line of one word. In ini files a key may be several words, hence the first `=` or `:` of the line counts there.
 */
export function separatorShown(text: string, start: number, stop: number, words: boolean): SeparatorCore | undefined {
  let k = start;
  for (; k < stop; k++) {
    const code = text.charCodeAt(k);
    if (code === 61) return k > start ? '=' : undefined;
    if (code === 58) return k > start ? ':' : undefined;
    if (!words && isBlank(code)) break;
  }
  const next = skipBlanks(text, k, stop);
  // A word with a blank behind it: a key with an empty value.
  if (next >= stop) return !words && next > k ? '' : undefined;
  const code = text.charCodeAt(next);
  return code === 61 ? '=' : code === 58 ? ':' : '';
}

/** The separator that most lines show; `=` where none tells. `ignored` marks lines that are no keys. */
export function detectSeparator(
  text: string,
  words: boolean,
  ignored: (start: number, stop: number) => boolean,
): SeparatorCore {
  const votes = new Map<SeparatorCore, number>([
    ['=', 0],
    [':', 0],
    ['', 0],
  ]);
  let left = looked;
  for (let at = firstLine(text); at < text.length && left > 0;) {
    const stop = lineStop(text, at);
    const start = skipBlanks(text, at, stop);
    if (start < stop && !ignored(start, stop)) {
      const shown = separatorShown(text, start, stop, words);
      if (shown !== undefined) {
        votes.set(shown, (votes.get(shown) ?? 0) + 1);
        left -= 1;
      }
    }
    at = afterLineEnd(text, stop);
  }
  let best = '=';
  for (const [core, count] of votes) if (count > (votes.get(best) ?? 0)) best = core;
  return best;
}
