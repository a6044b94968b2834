import { visible } from '../../diagnostics/visible.ts';
import type { Comparison } from '../../model/comparison.ts';
import type { PageCell, PageTable } from '../html/page.ts';
import { diffSections } from './diff-sections.ts';
import type { DiffPart } from './diff-sections.ts';
import { leadOf, tallyOf } from './diff-text.ts';

/** What would be markup (CommonMark 0.31.2, 2.4 and the tables of GitHub's specification) is taken literally. */
function literal(text: string): string {
  return visible(text).replaceAll(/[\\`*_{}[\]<>()#+!|~-]/g, (mark) => (mark === '-' ? mark : `\\${mark}`));
}

function cellOf({ text, origin }: PageCell): string {
  return literal(text) + (origin === undefined || origin === '' ? '' : `<br><small>${literal(origin)}</small>`);
}

function tableOf({ caption, columns, rows }: PageTable): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [
    ...(caption === undefined ? [] : [`### ${literal(caption)}`, '']),
    line(columns.map(literal)),
    line(columns.map(() => '---')),
    ...rows.map((row) => line(row.map(cellOf))),
  ].join('\n');
}

export function diffMarkdown(comparison: Comparison, parts: readonly DiffPart[]): string {
  const { a, b, untold } = comparison;
  const blocks = [`# ${literal(a.shown)} and ${literal(b.shown)}`, literal(leadOf(comparison))];
  for (const { heading, paragraphs = [], items = [], tables = [] } of diffSections(comparison, parts)) {
    blocks.push(`## ${literal(heading)}`, ...paragraphs.map(literal));
    if (items.length > 0) blocks.push(items.map((item) => `- ${cellOf(item)}`).join('\n'));
    blocks.push(...tables.map(tableOf));
  }
  return `${[...blocks, ...untold.map(literal), literal(tallyOf(comparison))].join('\n\n')}\n`;
}
