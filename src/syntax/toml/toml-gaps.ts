import { lineEndAfter, lineStartBefore } from '../shared/line-plan.ts';
import type { TomlSection } from './toml-model.ts';

/** The start of the line after the one that starts at `at` (or the text's end). */
export const nextLine = (text: string, at: number): number => lineEndAfter(text, at);

/** The start of the line before the one that starts at `at`. */
export function previousLine(text: string, at: number): number | undefined {
  if (at === 0 || (at === 1 && text.startsWith('\ufeff'))) return undefined;
  const end = text[at - 1] === '\n' && text[at - 2] === '\r' ? at - 2 : at - 1;
  return lineStartBefore(text, end);
}

/** Whether the line that starts at `at` holds nothing but blanks. */
export function isBlankLine(text: string, at: number): boolean {
  let k = at;
  while (text[k] === ' ' || text[k] === '\t') k += 1;
  return at < text.length && (k === text.length || text[k] === '\n' || text[k] === '\r');
}

function isCommentLine(text: string, at: number): boolean {
  let k = at;
  while (text[k] === ' ' || text[k] === '\t') k += 1;
  return text[k] === '#';
}

/** The start of the comment lines right above a line, or that line itself. */
export function attachedStart(text: string, lineStart: number): number {
  let at = lineStart;
  for (let up = previousLine(text, at); up !== undefined && isCommentLine(text, up); up = previousLine(text, at))
    at = up;
  return at;
}

/** Whether a section's header has a blank line above it (above its comments); the text's first line has none to have. */
function hasBlankAbove(text: string, section: TomlSection): boolean | undefined {
  if (section.header === undefined) return undefined;
  const above = previousLine(text, attachedStart(text, lineStartBefore(text, section.header.start)));
  return above === undefined ? undefined : isBlankLine(text, above);
}

/** Whether this file parts its sections with blank lines, judged near a section, else anywhere; true if none tells. */
export function partsWithBlanks(
  text: string,
  sections: readonly TomlSection[],
  near: TomlSection | undefined,
): boolean {
  const known = near === undefined ? undefined : hasBlankAbove(text, near);
  if (known !== undefined) return known;
  for (const section of sections.slice(-8)) {
    const blank = hasBlankAbove(text, section);
    if (blank !== undefined) return blank;
  }
  return true;
}

/** Where a new section goes: after `section`, or at the end of the file (after its last line that is not blank). */
export function endOfSection(
  text: string,
  sections: readonly TomlSection[],
  section: TomlSection | undefined,
): { readonly at: number; readonly blankBefore: boolean; readonly blankStyleKnown: boolean } {
  const last = section ?? sections.at(-1);
  const content = last?.entries.at(-1)?.span.end ?? last?.header?.end;
  let at = content === undefined ? (text.startsWith('\ufeff') ? 1 : 0) : lineEndAfter(text, content);
  const limit = last === undefined ? text.length : last.limit;
  let end = at;
  if (limit === text.length) {
    for (; at < text.length; at = nextLine(text, at)) if (!isBlankLine(text, at)) end = nextLine(text, at);
  } else {
    while (at < limit && isCommentLine(text, at)) at = nextLine(text, at);
    // Comments that lead up to the next header belong to it.
    if (isBlankLine(text, at)) end = at;
  }
  const nothingBefore = text.slice(0, Math.min(end, 4096)).trim() === '' && end <= 4096;
  return {
    at: end,
    blankBefore: !nothingBefore && partsWithBlanks(text, sections, last),
    blankStyleKnown: !nothingBefore,
  };
}

/** Where the first key above all headers goes, and whether a blank line parts it from what follows. */
export function rootGap(
  text: string,
  sections: readonly TomlSection[],
): { readonly at: number; readonly blankAfter: boolean } {
  const header = sections[1]?.header;
  if (header === undefined) return { at: endOfSection(text, sections, undefined).at, blankAfter: false };
  const pos = attachedStart(text, lineStartBefore(text, header.start));
  let at = pos;
  for (let up = previousLine(text, at); up !== undefined && isBlankLine(text, up); up = previousLine(text, up)) at = up;
  const before = previousLine(text, at);
  if (before !== undefined) return { at, blankAfter: false };
  const second = sections[2];
  return { at: pos, blankAfter: second === undefined ? true : partsWithBlanks(text, sections, second) };
}
