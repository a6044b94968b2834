import { lineDifference } from './line-difference.ts';

/** How a format is read by lines, as far as it takes to know a line again in a file that was changed since. */
export interface LineScheme {
  /** `header`: a line in brackets begins a section. `indent`: a line belongs to the less indented ones above it. */
  readonly sections: 'none' | 'header' | 'indent';
  /** Characters, any of which ends the key at the beginning of a line. */
  readonly keyEnd: string;
}

/** Some lines that become others. Without old lines it is an insertion, known by the lines around it. */
interface Hunk {
  /** Line before, undefined at the start, and its section; then the same after it. */
  readonly before: string | undefined;
  readonly beforeIn: string;
  readonly after: string | undefined;
  readonly afterIn: string;
  /** Section that stands open where the lines are put; undefined: it does not matter. */
  readonly open: string | undefined;
  /** Section of the first old line. */
  readonly oldIn: string;
  readonly old: readonly string[];
  readonly fresh: readonly string[];
}

/** How many lines of a section begin with a key: fewer or more than were seen, and none of them is ours for certain. */
interface KeyCount {
  readonly section: string;
  readonly key: string;
  readonly count: number;
}

/** One text made from another by its changed lines alone, so that other lines may have changed meanwhile. */
export interface LineEdits {
  readonly scheme: LineScheme;
  readonly counts: readonly KeyCount[];
  readonly hunks: readonly Hunk[];
  /** Whether the last line has its end, before and after. */
  readonly ended: readonly [boolean, boolean];
}

interface Text {
  readonly lines: readonly string[];
  readonly ended: boolean;
  /** Of each line. */
  readonly sections: readonly string[];
  /** What stands open before each line, and at the end. */
  readonly open: readonly string[];
}

/** As awk's tolower and blanks do it in the C locale: by bytes. Texts here hold one character for each byte. */
const folded = (text: string): string => text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
const trimmed = (text: string): string => text.replace(/^[ \t\r]+/, '').replace(/[ \t\r]+$/, '');
const separator = '\u0001';

function readLines(text: string, { sections: kind }: LineScheme): Text {
  const ended = text === '' || text.endsWith('\n');
  const lines = text === '' ? [] : (ended ? text.slice(0, -1) : text).split('\n');
  const sections: string[] = [];
  const open: string[] = [];
  const above: { readonly indent: number; readonly chain: string }[] = [];
  let now = '';
  for (const line of lines) {
    open.push(now);
    const plain = trimmed(line);
    if (kind === 'header' && plain.startsWith('[')) {
      sections.push('');
      now = folded(plain);
    } else if (kind !== 'indent') sections.push(now);
    else if (plain === '') sections.push(above.at(-1)?.chain ?? '');
    else {
      const indent = line.length - line.replace(/^[ \t\r]+/, '').length;
      while ((above.at(-1)?.indent ?? -1) >= indent) above.pop();
      const chain = above.at(-1)?.chain ?? '';
      sections.push(chain);
      above.push({ indent, chain: chain + separator + plain });
    }
  }
  open.push(now);
  return { lines, ended, sections, open };
}

function keyOf(line: string, { keyEnd }: LineScheme): string {
  const plain = trimmed(line);
  // The first character never ends a key: a header or an element begins with one.
  for (let at = 1; at < plain.length; at++) {
    if (keyEnd.includes(plain[at] ?? '')) return folded(trimmed(plain.slice(0, at)));
  }
  return folded(plain);
}

function countKey(text: Text, scheme: LineScheme, section: string, key: string): number {
  return text.lines.filter((line, at) => text.sections[at] === section && keyOf(line, scheme) === key).length;
}

/**
 * The edits by line from one text to another, each character of which stands for a byte. Undefined where they would not
 * lead from the one to the other without doubt.
 */
export function lineEdits(before: string, after: string, scheme: LineScheme): LineEdits | undefined {
  const from = readLines(before, scheme);
  const to = readLines(after, scheme);
  const hunks: Hunk[] = [];
  const places = new Map<string, { readonly section: string; readonly key: string }>();
  const watch = (text: Text, at: number): void => {
    const section = text.sections[at] ?? '';
    const key = keyOf(text.lines[at] ?? '', scheme);
    if (key !== '') places.set(`${section}\n${key}`, { section, key });
  };
  for (const { at, old, to: put, fresh } of lineDifference(from.lines, to.lines)) {
    for (let k = 0; k < old; k++) watch(from, at + k);
    for (let k = 0; k < fresh; k++) watch(to, put + k);
    const first = to.lines[put] ?? '';
    const heads = scheme.sections === 'header' && fresh > 0 && trimmed(first).startsWith('[');
    hunks.push({
      before: from.lines[at - 1],
      beforeIn: from.sections[at - 1] ?? '',
      after: from.lines[at + old],
      afterIn: from.sections[at + old] ?? '',
      open: scheme.sections !== 'header' || heads ? undefined : from.open[at],
      oldIn: from.sections[at] ?? '',
      old: from.lines.slice(at, at + old),
      fresh: to.lines.slice(put, put + fresh),
    });
  }
  const counts = [...places.values()].map(({ section, key }) => ({
    section,
    key,
    count: countKey(from, scheme, section, key),
  }));
  const edits = { scheme, counts, hunks, ended: [from.ended, to.ended] } as const;
  return applyLineEdits(before, edits) === after ? edits : undefined;
}

/** What the installer's awk makes of a text; undefined where it refuses. */
export function applyLineEdits(current: string, { scheme, counts, hunks, ended }: LineEdits): string | undefined {
  const text = readLines(current, scheme);
  for (const { section, key, count } of counts) if (countKey(text, scheme, section, key) !== count) return undefined;
  if (ended[0] !== ended[1] && text.ended !== ended[0]) return undefined;
  const out: string[] = [];
  let from = 0;
  for (const hunk of hunks) {
    const at = hunk.old.length > 0 ? placeOfOld(text, hunk) : placeBetween(text, hunk, scheme);
    if (at === undefined || at < from) return undefined;
    out.push(...text.lines.slice(from, at), ...hunk.fresh);
    from = at + hunk.old.length;
  }
  out.push(...text.lines.slice(from));
  return out.join('\n') + (out.length > 0 && (ended[0] === ended[1] ? text.ended : ended[1]) ? '\n' : '');
}

function placeOfOld({ lines, sections }: Text, { old, oldIn, before, after }: Hunk): number | undefined {
  const places: number[] = [];
  for (let at = 0; at + old.length <= lines.length; at++)
    if (sections[at] === oldIn && old.every((line, k) => lines[at + k] === line)) places.push(at);
  if (places.length === 1) return places[0];
  const closer = places.filter((at) => lines[at - 1] === before && lines[at + old.length] === after);
  return closer.length === 1 ? closer[0] : undefined;
}

function placeBetween(text: Text, hunk: Hunk, { sections: kind }: LineScheme): number | undefined {
  const { lines, sections, open } = text;
  const behind: number[] = [];
  const ahead: number[] = [];
  const both: number[] = [];
  for (let at = 0; at <= lines.length; at++) {
    if (hunk.open !== undefined && open[at] !== hunk.open) continue;
    const isBehind = lines[at - 1] === hunk.before && (at === 0 || sections[at - 1] === hunk.beforeIn);
    const isAhead = lines[at] === hunk.after && (at === lines.length || sections[at] === hunk.afterIn);
    if (isBehind && isAhead) both.push(at);
    if (isBehind && hunk.before !== undefined) behind.push(at);
    if (isAhead && (hunk.after !== undefined || kind !== 'indent')) ahead.push(at);
  }
  for (const places of [both, behind, ahead]) if (places.length > 0) return places.length === 1 ? places[0] : undefined;
  return undefined;
}
