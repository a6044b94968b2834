import { catalogue } from '../../diagnostics/catalogue.ts';
import type { Finding, Grade } from '../../diagnostics/finding.ts';
import { visible } from '../../diagnostics/visible.ts';
import { drawControls } from '../../drawing/terminal.ts';
import type { Paint } from '../paint.ts';
import { count, wrap } from '../wrap.ts';
import { codeFrame, placeText } from './code-frame.ts';

/** Findings in the order of files and lines, errors before warnings before notes. */
export function sortFindings(findings: readonly Finding[]): readonly Finding[] {
  const weight: Readonly<Record<Grade, number>> = { error: 0, warning: 1, note: 2 };
  return [...findings].sort((a, b) => {
    const byGrade = weight[a.grade] - weight[b.grade];
    if (byGrade !== 0) return byGrade;
    const nameA = a.place?.source.name ?? '';
    const nameB = b.place?.source.name ?? '';
    if (nameA !== nameB) return nameA < nameB ? -1 : 1;
    return (a.place?.span.start ?? 0) - (b.place?.span.start ?? 0) || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0);
  });
}

/** One finding: what, where with the lines themselves, why, and the way out. */
export function findingText(finding: Finding, paint: Paint, width: number): string {
  const mark = finding.grade === 'error' ? paint.error : finding.grade === 'warning' ? paint.warning : paint.note;
  const lines = [
    `${mark(finding.grade)} ${paint.faint(finding.code)}  ${paint.strong(catalogue[finding.code].summary)}`,
  ];
  if (finding.place !== undefined) {
    lines.push(`  at ${placeText(finding.place)}`);
    lines.push(...codeFrame(finding.place, mark, paint, width - 4).map((line) => `    ${line}`));
  }
  lines.push(wrap(visible(finding.detail, { keepLines: true }), width, '  '));
  for (const related of finding.related ?? [])
    lines.push(wrap(`see ${placeText(related.place)}: ${visible(related.note)}`, width, '  '));
  if (finding.picture !== undefined && width >= 50)
    lines.push(...drawControls(finding.picture).map((line) => `    ${line}`));
  lines.push(wrap(`Way out: ${visible(finding.wayOut, { keepLines: true })}`, width, '  '));
  return `${lines.join('\n')}\n`;
}

/** `2 errors, 1 warning, 4 notes`; `nothing to tell` without any. */
export function tally(findings: readonly Finding[]): string {
  const of = (grade: Grade): number => findings.filter((finding) => finding.grade === grade).length;
  const parts = [
    [of('error'), 'error'],
    [of('warning'), 'warning'],
    [of('note'), 'note'],
  ] as const;
  const shown = parts.filter(([number]) => number > 0).map(([number, thing]) => count(number, thing));
  return shown.length === 0 ? 'nothing to tell' : shown.join(', ');
}
