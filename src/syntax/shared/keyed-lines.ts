import type { Span } from '../../text/span.ts';
import type { KeyedLineStyle } from './keyed-line-style.ts';

/** One line that holds a key. Offsets are of the whole text. */
export interface KeyLine {
  readonly name: string;
  /** Index of its section; 0 is what stands before any. */
  readonly section: number;
  /** Start of its first line, and behind its last line's end. */
  readonly start: number;
  readonly next: number;
  /** From the key's first character to the value's last. */
  readonly span: Span;
  /** Value with its quotes; empty, behind the key or separator, where there is none. */
  readonly valueSpan: Span;
  readonly value: string;
  readonly quote: '' | "'" | '"';
  /** Whether a separator stands behind the key. */
  readonly parted: boolean;
  readonly indent: string;
}

/** A comment line that is a key put out of use: `;key: value`. */
export interface Example {
  readonly name: string;
  readonly section: number;
  readonly next: number;
  readonly indent: string;
}

export interface Section {
  /** Undefined for what stands before any. */
  readonly name: string | undefined;
  /** Start of its heading's line, and behind that line. */
  readonly start: number;
  readonly next: number;
  /** Behind its last line that holds a key or is the heading. */
  last: number;
  /** Behind the whole section. */
  end: number;
  /** Whether anything but blank lines and keys stands in it. */
  commented: boolean;
}

export interface KeyedLines {
  readonly keys: readonly KeyLine[];
  readonly sections: readonly Section[];
  readonly examples: readonly Example[];
}

interface Cut {
  readonly name: string;
  readonly valueStart: number;
  readonly parted: boolean;
}

/** Key and the start of what follows the separator, in a line without its indent. */
function cutLine(line: string, style: KeyedLineStyle): Cut | undefined {
  if (style.mark === '') {
    const blank = line.search(/[ \t]/);
    if (blank < 0) return line === '' ? undefined : { name: line, valueStart: line.length, parted: false };
    return { name: line.slice(0, blank), valueStart: blank + 1, parted: true };
  }
  const at = line.indexOf(style.mark);
  if (at < 0) return line === '' ? undefined : { name: line.trimEnd(), valueStart: line.length, parted: false };
  const name = line.slice(0, at).trimEnd();
  return name === '' ? undefined : { name, valueStart: at + style.mark.length, parted: true };
}

/** Where an inline comment begins (the blank before it), or the end of the text. Quotes are heeded. */
function commentStart(text: string, from: number, to: number, style: KeyedLineStyle): number {
  let quote = '';
  let first = true;
  for (let k = from; k < to; k++) {
    const c = text.charAt(k);
    if (quote !== '') {
      if (c === quote) quote = '';
      continue;
    }
    const blankBefore = k === from || /[ \t]/.test(text.charAt(k - 1));
    if (blankBefore && style.comments.some((comment) => text.startsWith(comment, k))) {
      let end = k;
      while (end > from && /[ \t]/.test(text.charAt(end - 1))) end -= 1;
      return end;
    }
    if (first && style.quotes && (c === '"' || c === "'")) quote = c;
    if (!/[ \t]/.test(c)) first = false;
  }
  return to;
}

function quoteOf(raw: string, style: KeyedLineStyle): '' | "'" | '"' {
  if (!style.quotes || raw.length < 2) return '';
  const first = raw.charAt(0);
  if ((first !== '"' && first !== "'") || raw.indexOf(first, 1) !== raw.length - 1) return '';
  return first;
}

interface LineSpan {
  readonly start: number;
  /** Before the line end. */
  readonly end: number;
  readonly next: number;
}

function* linesOf(text: string): Generator<LineSpan> {
  let start = text.startsWith('\ufeff') ? 1 : 0;
  while (start < text.length) {
    let end = start;
    while (end < text.length && text.charCodeAt(end) !== 10 && text.charCodeAt(end) !== 13) end += 1;
    const next = end >= text.length ? end : text.charCodeAt(end) === 13 && text.charCodeAt(end + 1) === 10 ? end + 2 : end + 1;
    yield { start, end, next };
    start = next;
  }
}

function indentOf(text: string, start: number, end: number): number {
  let at = start;
  while (at < end && (text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9)) at += 1;
  return at;
}

/** Reads a text of lines with keys. `parted`: whether headings such as `[name]` begin sections. `bare`: whether a line without a separator is a key. */
export function readKeyedLines(text: string, style: KeyedLineStyle, parted: boolean, bare: boolean): KeyedLines {
  const keys: KeyLine[] = [];
  const examples: Example[] = [];
  let current: Section = { name: undefined, start: 0, next: text.startsWith('\ufeff') ? 1 : 0, last: text.startsWith('\ufeff') ? 1 : 0, end: 0, commented: false };
  const sections: Section[] = [current];
  let open: { line: LineSpan; at: number; cut: Cut; value: string } | undefined;

  const close = (end: number, next: number): void => {
    if (open === undefined) return;
    const { line, at, cut } = open;
    const from = indentOf(text, at + cut.valueStart, end);
    let to = style.inlineComments ? commentStart(text, from, end, style) : end;
    while (to > from && /[ \t]/.test(text.charAt(to - 1))) to -= 1;
    const empty = from >= to;
    const valueSpan = empty ? { start: at + cut.valueStart, end: at + cut.valueStart } : { start: from, end: to };
    const raw = open.value === '' ? text.slice(valueSpan.start, valueSpan.end) : open.value;
    const quote = quoteOf(raw, style);
    keys.push({
      name: cut.name,
      section: sections.length - 1,
      start: line.start,
      next,
      span: { start: at, end: Math.max(valueSpan.end, at + cut.name.length) },
      valueSpan,
      value: quote === '' ? raw : raw.slice(1, -1),
      quote,
      parted: cut.parted,
      indent: text.slice(line.start, at),
    });
    current.last = next;
    open = undefined;
  };

  for (const line of linesOf(text)) {
    if (open !== undefined) {
      // A line that the one before it continues on.
      const piece = text.slice(indentOf(text, line.start, line.end), line.end);
      const more = style.continuation !== undefined && piece.endsWith(style.continuation);
      open.value += more ? piece.slice(0, -(style.continuation?.length ?? 0)) : piece;
      if (!more) close(line.end, line.next);
      continue;
    }
    const at = indentOf(text, line.start, line.end);
    if (at === line.end) continue;
    const body = text.slice(at, line.end);
    const comment = style.comments.find((mark) => body.startsWith(mark));
    if (comment !== undefined) {
      current.commented = true;
      const inner = body.slice(comment.length).trimStart();
      const cut = cutLine(inner, style);
      if (cut?.parted === true && /^\S+$/.test(cut.name)) {
        examples.push({ name: cut.name, section: sections.length - 1, next: line.next, indent: text.slice(line.start, at) });
      }
      continue;
    }
    const heading = /^\[(.*)\][ \t]*$/.exec(body) ?? (style.inlineComments ? /^\[([^\]]*)\][ \t]+[#;]/.exec(body) : null);
    if (heading !== null) {
      if (!parted) {
        current.commented = true;
        continue;
      }
      current.end = line.start;
      current = { name: heading[1]?.trim() ?? '', start: line.start, next: line.next, last: line.next, end: line.next, commented: false };
      sections.push(current);
      continue;
    }
    const cut = cutLine(body, style);
    if (cut === undefined || (!cut.parted && !bare)) {
      current.commented = true;
      continue;
    }
    open = { line, at, cut, value: '' };
    const continued = style.continuation !== undefined && cut.parted && body.endsWith(style.continuation);
    if (continued) open.value = text.slice(indentOf(text, at + cut.valueStart, line.end), line.end - (style.continuation?.length ?? 0));
    else close(line.end, line.next);
  }
  close(text.length, text.length);
  current.end = text.length;
  return { keys, sections, examples };
}
