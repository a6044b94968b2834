import { lineEndAfter } from '../shared/line-plan.ts';

/** What a text would cost its reader: the nesting of its brackets and its longest token, with their places. */
export interface TomlScan {
  readonly deepest: { readonly depth: number; readonly at: number };
  readonly longest: { readonly length: number; readonly at: number };
}

/** The offset after the string or comment that starts at `at`; for an unclosed one, where it must have ended. */
function tokenEnd(text: string, at: number): number {
  const quote = text[at];
  if (quote === '#' || (quote !== '"' && quote !== "'")) return lineEndAfter(text, at);
  const escapes = quote === '"';
  const triple = quote.repeat(3);
  const many = text.startsWith(triple, at);
  for (let k = at + (many ? 3 : 1); k < text.length; k++) {
    const c = text[k];
    if (escapes && c === '\\') k += 1;
    else if (many) {
      if (c !== quote || !text.startsWith(triple, k)) continue;
      // Up to two quotes may stand before the closing three.
      let end = k + 3;
      while (end < k + 5 && text[end] === quote) end += 1;
      return end;
    } else if (c === quote) return k + 1;
    else if (c === '\n' || c === '\r') return k;
  }
  return text.length;
}

/** Reads a text once, without recursion, so that a reader that recurses can be kept from hostile input. */
export function scanToml(text: string): TomlScan {
  let depth = 0;
  let deepest = { depth: 0, at: 0 };
  let longest = { length: 0, at: 0 };
  for (let at = 0; at < text.length; at++) {
    const c = text[at];
    if (c === '[' || c === '{') {
      depth += 1;
      if (depth > deepest.depth) deepest = { depth, at };
    } else if (c === ']' || c === '}') depth = Math.max(0, depth - 1);
    else if (c === '"' || c === "'" || c === '#') {
      const end = tokenEnd(text, at);
      if (end - at > longest.length) longest = { length: end - at, at };
      at = end - 1;
    }
  }
  return { deepest, longest };
}
