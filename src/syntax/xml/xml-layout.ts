import type { SourceText } from '../../text/source-text.ts';
import type { Style } from '../contract.ts';
import type { XmlDocument, XmlElement, XmlParent, XmlPiece } from './xml-node.ts';

/** How a text is laid out, as found in it, else by the style, else two blanks and one element a line. */
export interface XmlLayout {
  readonly eol: string;
  readonly unit: string;
  readonly quote: '"' | "'";
  /** How an empty tag ends: `/>` or ` />`. */
  readonly emptyEnd: string;
  /** One element a line, where there are no siblings to follow. */
  readonly lines: boolean;
}

const isBlankUnit = (unit: number): boolean => unit === 0x20 || unit === 0x09 || unit === 0x0a || unit === 0x0d;

/** Whether the piece is text of blanks and line ends only. */
export function isBlank(text: string, piece: XmlPiece | undefined): boolean {
  if (piece?.kind !== 'text') return false;
  for (let at = piece.start; at < piece.end; at++) if (!isBlankUnit(text.charCodeAt(at))) return false;
  return true;
}

/**
 * The blanks that part an element from what is before it: from the last line end on, else all of them. `at` is where
 * it begins, `floor` the end of the markup before it.
 */
export function parting(text: string, floor: number, at: number): string {
  let from = at;
  while (from > floor) {
    const unit = text.charCodeAt(from - 1);
    if (!isBlankUnit(unit)) break;
    from -= 1;
    if (unit === 0x0a && from > floor && text.charCodeAt(from - 1) === 0x0d) from -= 1;
    if (unit === 0x0a || unit === 0x0d) break;
  }
  return text.slice(from, at);
}

export const beginsLine = (blank: string): boolean => /^[\r\n]/.test(blank);

/** The indent of a parting that begins a line. */
export function indentOf(blank: string): string | undefined {
  return beginsLine(blank) ? blank.replace(/^[\r\n]+/, '') : undefined;
}

/** Where the piece before this one ends whose kind is not text: blanks of the text between may be taken. */
export function floorOf(parent: XmlParent, index: number): number {
  const before = parent.pieces[index - 1];
  if (before === undefined) return parent.kind === 'document' ? (parent.pieces[0]?.start ?? 0) : parent.openEnd;
  return before.kind === 'text' ? before.start : before.end;
}

export function detectXmlLayout(source: SourceText, document: XmlDocument, style: Style): XmlLayout {
  const { text } = source;
  const eol = /\r\n|\n|\r/.exec(text)?.[0] ?? (style.lineEnd === 'crlf' ? '\r\n' : '\n');
  let unit: string | undefined;
  let quote: '"' | "'" | undefined;
  let emptyEnd: string | undefined;
  let lines: boolean | undefined;
  let inner = 0;
  const waiting: { readonly parent: XmlParent; readonly indent: string | undefined }[] = [
    { parent: document, indent: undefined },
  ];
  // In file order, and no further than needed to know the habits of the text.
  for (let next = waiting.pop(); next !== undefined && inner < 1000; next = waiting.pop()) {
    const { parent, indent } = next;
    const below: { parent: XmlElement; indent: string | undefined }[] = [];
    parent.pieces.some((piece, index) => {
      if (piece.kind !== 'element') return false;
      const blank = parting(text, floorOf(parent, index), piece.start);
      const own = indentOf(blank) ?? (parent.kind === 'document' ? '' : undefined);
      if (parent.kind === 'element') {
        inner += 1;
        if (beginsLine(blank)) lines = true;
        if (
          unit === undefined &&
          own !== undefined &&
          indent !== undefined &&
          own.startsWith(indent) &&
          own.length > indent.length
        ) {
          unit = own.slice(indent.length);
        }
      }
      const first = piece.attributes[0];
      if (first !== undefined) quote ??= text[first.end - 1] === "'" ? "'" : '"';
      if (piece.selfClosing) emptyEnd ??= /[ \t\r\n]/.test(text[piece.openEnd - 3] ?? '') ? ' />' : '/>';
      if (piece.pieces.length > 0) below.push({ parent: piece, indent: own });
      return below.length > 1000;
    });
    waiting.push(...below.reverse());
  }
  return {
    eol,
    unit: style.indent ?? unit ?? '  ',
    quote: quote ?? '"',
    emptyEnd: emptyEnd ?? '/>',
    lines: lines ?? inner === 0,
  };
}
