import type { Style } from '../contract.ts';

/** A style with nothing left open: said by the dialect, else detected, else the default. */
export interface KeyedLineStyle {
  /** Written between a new key and its value, blanks included. */
  readonly separator: string;
  /** What parts key and value when reading: the separator without blanks; empty: the first blank does. */
  readonly mark: string;
  readonly comments: readonly string[];
  readonly inlineComments: boolean;
  /** Whether quotes around a value are no part of it. */
  readonly quotes: boolean;
  /** Quote written around new values; empty: none unless the value needs it. */
  readonly newQuote: '' | "'" | '"';
  readonly list: string | undefined;
  readonly duplicates: 'first' | 'last' | 'error';
  readonly continuation: string | undefined;
  readonly sections: 'merge' | 'first' | 'last';
  readonly fold: (name: string) => string;
}

const sample = 400;

/** The most frequent of some texts; the first seen of equals. */
function commonest(texts: readonly string[]): string | undefined {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  let best: string | undefined;
  for (const [text, count] of counts) if (best === undefined || count > (counts.get(best) ?? 0)) best = text;
  return best;
}

/** `sections`: whether lines such as `[name]` part the file. */
export function keyedLineStyle(text: string, style: Style): KeyedLineStyle {
  const comments = style.comment === undefined ? ['#', ';'] : typeof style.comment === 'string' ? [style.comment] : style.comment;
  const lines: string[] = [];
  for (const match of text.matchAll(/[^\r\n]+/g)) {
    const line = match[0].trim();
    if (line === '' || line.startsWith('[') || comments.some((comment) => line.startsWith(comment))) continue;
    lines.push(line);
    if (lines.length >= sample) break;
  }
  const separators = lines.flatMap((line) => /^[^\s=:]+([ \t]*[=:][ \t]*|[ \t]+)/.exec(line)?.[1] ?? []);
  const marks = separators.map((separator) => separator.trim());
  const mark = style.separator === undefined ? (commonest(marks) ?? '=') : style.separator.trim();
  const own = separators.filter((separator) => separator.trim() === mark);
  const separator = style.separator ?? commonest(own) ?? ' = ';
  const values = lines.map((line) => line.slice(mark === '' ? line.search(/[ \t]/) : line.indexOf(mark) + mark.length).trim());
  const double = values.filter((value) => /^".*"$/.test(value)).length;
  const single = values.filter((value) => /^'.*'$/.test(value)).length;
  const usual = double * 2 > values.length ? '"' : single * 2 > values.length ? "'" : '';
  return {
    separator: separator === '' ? ' ' : separator,
    mark,
    comments: comments.filter((comment) => comment !== ''),
    inlineComments: style.inlineComments ?? false,
    quotes: style.quote !== 'none',
    newQuote: style.quote === 'double' ? '"' : style.quote === 'single' ? "'" : style.quote === 'none' ? '' : usual,
    list: style.list,
    duplicates: style.duplicates ?? 'last',
    continuation: style.continuation === '' ? undefined : style.continuation,
    sections: style.sections ?? 'merge',
    fold: style.foldCase === true ? (name) => name.toLowerCase() : (name) => name,
  };
}
