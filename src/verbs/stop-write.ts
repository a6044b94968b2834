import type { Finding } from '../diagnostics/finding.ts';
import { findingJson } from '../report/json-findings.ts';
import { tally } from '../report/terminal/findings.ts';
import { flag } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { version } from './version.ts';

/** Says why nothing is written. */
export function stopWrite(shell: Shell, options: Options, findings: readonly Finding[]): ExitStatus {
  if (flag(options, 'json'))
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'write', wrote: [], findings: findings.map(findingJson) }, undefined, 2)}\n`,
    );
  else {
    sayFindings(shell, findings);
    shell.say(`Nothing was written: ${tally(findings)}.\n`);
  }
  return 1;
}
