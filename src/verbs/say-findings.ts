import type { Finding } from '../diagnostics/finding.ts';
import { paint } from '../report/paint.ts';
import { findingText, sortFindings } from '../report/terminal/findings.ts';
import type { Shell } from './contract.ts';

/** Prints findings that a person has to read: notes are for `check`. */
export function sayFindings(shell: Shell, findings: readonly Finding[]): void {
  const brush = paint(shell.colour.say);
  for (const finding of sortFindings(findings))
    if (finding.grade !== 'note') shell.say(`${findingText(finding, brush, shell.width)}\n`);
}
