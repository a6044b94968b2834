import { visible } from '../../diagnostics/visible.ts';
import { countDifferences } from '../../model/comparison.ts';
import type { Comparison } from '../../model/comparison.ts';
import type { DiffPart } from './diff-sections.ts';
import type { PageCell, PageTable } from '../html/page.ts';
import type { Paint } from '../paint.ts';
import { count, wrap } from '../wrap.ts';
import { diffParts, diffSections } from './diff-sections.ts';

/** One sentence: who is compared, what is held against what. */
export function leadOf({ a, b, pairs }: Comparison): string {
  const held = pairs.flatMap((pair) =>
    pair.a === undefined || pair.b === undefined ? [] : [pair.a === pair.b ? pair.a : `${pair.a} with ${pair.b}`],
  );
  return `${a.shown} (${a.device}) and ${b.shown} (${b.device}), side by side: ${held.length === 0 ? 'no frontend of a kind that both have' : held.join(', ')}.`;
}

export function tallyOf(comparison: Comparison): string {
  const { settings, cannot, hands, lone, untold } = comparison;
  if (countDifferences(comparison) === 0)
    return untold.length === 0 ? 'No difference.' : 'No difference in what could be compared.';
  const parts = [
    count(settings.filter(({ agree }) => agree !== true).length, 'setting'),
    `${cannot.length} that one side cannot say`,
    `${count(lone.length, 'frontend')} on one side only`,
    `${count(hands.length, 'habit')} to unlearn`,
  ];
  return `${parts.join(', ')}.`;
}

/** For a terminal: tables of three columns that fit `width`. */
export function diffText(
  comparison: Comparison,
  paint: Paint,
  width: number,
  parts: readonly DiffPart[] = diffParts,
): string {
  const lines = [wrap(visible(leadOf(comparison)), width, '')];
  for (const { heading, paragraphs = [], items = [], tables = [] } of diffSections(comparison, parts)) {
    lines.push('', paint.strong(visible(heading)));
    for (const paragraph of paragraphs) lines.push(wrap(visible(paragraph), width, '  '));
    for (const item of items) lines.push(wrap(visible(item.text), width, '  '));
    for (const table of tables) lines.push(...tableLines(table, paint, width));
  }
  for (const sentence of comparison.untold) lines.push('', wrap(visible(sentence), width, ''));
  lines.push('', wrap(tallyOf(comparison), width, ''));
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

function tableLines({ caption, columns, rows }: PageTable, paint: Paint, width: number): readonly string[] {
  const room = Math.min(width, 100) - 2;
  const longest = Math.max(...rows.map(([cell]) => Math.max(cell?.text.length ?? 0, cell?.origin?.length ?? 0)), 8);
  const first = Math.min(longest, Math.floor(room * 0.3));
  const other = Math.floor((room - first - 4) / 2);
  const widths = [first, other, other];
  const head = columns.map((column, at) => (at === 0 && caption !== undefined ? caption : column));
  const joined = (
    cells: readonly (readonly string[])[],
    mark: (text: string, line: number, column: number) => string,
  ) => {
    const height = Math.max(...cells.map((cell) => cell.length));
    return Array.from({ length: height }, (_, line) => {
      const parts = cells.map((cell, column) => {
        const text = cell[line] ?? '';
        return mark(text, line, column) + ' '.repeat(Math.max(0, (widths[column] ?? 0) - text.length));
      });
      return `  ${parts.join('  ')}`.trimEnd();
    });
  };
  const lines: string[] = [];
  // A caption that does not fit over its column gets a line of its own.
  if (caption !== undefined && caption.length > first) {
    lines.push(`  ${visible(caption)}`);
    head[0] = columns[0] ?? '';
  }
  lines.push(
    ...joined(
      head.map((text, at) => broken(visible(text), widths[at] ?? 0)),
      (text) => paint.faint(text),
    ),
  );
  for (const row of rows) {
    const cells = row.map((cell, at) => cellLines(cell, widths[at] ?? 0));
    lines.push(
      ...joined(
        cells.map(({ text, origin }) => [...text, ...origin]),
        (text, line, column) => (line < (cells[column]?.text.length ?? 0) ? text : paint.faint(text)),
      ),
    );
  }
  return lines;
}

function cellLines(
  { text, origin }: PageCell,
  width: number,
): { readonly text: readonly string[]; readonly origin: readonly string[] } {
  return {
    text: broken(visible(text), width),
    origin: origin === undefined || origin === '' ? [] : broken(visible(origin), width),
  };
}

/** Broken at blanks, and inside a word only where that alone does not fit. */
function broken(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length <= width) {
      line = `${line} ${word}`;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
    while (line.length > width) {
      // A path is broken behind a slash, so that its last member stays whole.
      const slash = line.lastIndexOf('/', width - 1);
      const at = slash > 0 ? slash + 1 : width;
      lines.push(line.slice(0, at));
      line = line.slice(at);
    }
  }
  return [...lines, line];
}
