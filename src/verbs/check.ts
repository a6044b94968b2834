import { catalogue } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { pageOf } from '../diagnostics/pages.ts';
import { visible } from '../diagnostics/visible.ts';
import { runProfile, withoutTwins } from '../pipeline.ts';
import { fidelityTable } from '../report/fidelity.ts';
import { fidelityJson } from '../report/json-fidelity.ts';
import { findingJson } from '../report/json-findings.ts';
import { paint } from '../report/paint.ts';
import { sarif } from '../report/sarif.ts';
import { findingText, sortFindings, tally } from '../report/terminal/findings.ts';
import { count } from '../report/wrap.ts';
import { table } from '../report/terminal/table.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { applyMends } from './apply-mends.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import { version } from './version.ts';

export const run: VerbRun = (shell, args, options) => {
  const code = text(options, 'explain');
  if (code !== undefined) return explainCode(shell, code);
  if (flag(options, 'codes')) {
    const rows = Object.entries(catalogue).map(([name, { grade, summary }]) => [name, grade, summary]);
    shell.out(table([['code', 'grade', 'says'], ...rows.sort((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1))]));
    return 0;
  }
  if (flag(options, 'json') && flag(options, 'sarif')) {
    shell.say('thumbwright: --json and --sarif each want standard output for themselves.\nGive one of them.\n');
    return 2;
  }
  const chosen = chooseTargets(shell, args);
  if (chosen.kind === 'stop') return chosen.status;
  const card = cardFolders(shell, options);
  if (card === 'stop') return 2;
  const { project, profiles } = chosen.targets;
  const easyHands = flag(options, 'easy-hands');
  const { disk } = shell;

  let runs = profiles.map(({ path }) => runProfile(project, path, { card, newest: false, easyHands, disk }));
  if (flag(options, 'fix')) {
    const mended = applyMends(shell, project, withoutTwins(runs.flatMap((r) => r.findings)));
    if (mended.kind === 'failed') return 3;
    if (mended.count > 0)
      runs = profiles.map(({ path }) => runProfile(project, path, { card, newest: false, easyHands, disk }));
  }
  const findings = sortFindings(withoutTwins(runs.flatMap((r) => r.findings)));
  if (flag(options, 'sarif')) shell.out(`${JSON.stringify(sarif(findings, version), undefined, 2)}\n`);
  else if (flag(options, 'json')) {
    const document = {
      thumbwright: version,
      document: 'check',
      profiles: runs.map((r) => ({
        name: r.name,
        fidelity: r.built === undefined ? [] : fidelityJson(r.built.compiled.fidelity),
        ...(r.room.length === 0 ? {} : { room: r.room }),
      })),
      findings: findings.map(findingJson),
    };
    shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
  } else printFindings(shell, findings, options, runs);
  return statusOf(findings, flag(options, 'strict'));
};

function printFindings(
  shell: Shell,
  findings: readonly Finding[],
  options: Options,
  runs: readonly ReturnType<typeof runProfile>[],
): void {
  const brush = paint(shell.colour.out);
  for (const finding of findings) shell.out(`${findingText(finding, brush, shell.width)}\n`);
  if (flag(options, 'table')) {
    for (const { name, built } of runs) {
      if (built !== undefined)
        shell.out(
          `${visible(name)}: what each frontend can say\n${fidelityTable(built.compiled.resolved, built.compiled.fidelity)}\n`,
        );
    }
  }
  for (const { parts, cluster, free, peak } of runs.flatMap(({ room }) => room))
    shell.out(
      `Room on ${parts.join(' and ')}: a write takes up to ${count(peak, 'cluster')} of ${cluster} bytes; ${Math.floor(free / cluster)} are free.\n`,
    );
  shell.out(`${runs.map((r) => visible(r.name)).join(', ')}: ${tally(findings)}\n`);
  const mends = findings.filter((finding) => finding.mend?.grade === 'certain').length;
  if (mends > 0 && !flag(options, 'fix'))
    shell.out(
      `${mends === 1 ? 'One of them has a mend that is' : `${mends} of them have mends that are`} certain:\n  thumbwright check --fix\n`,
    );
  const [first] = findings;
  if (first !== undefined)
    shell.out(`The whole story of one of them, as in:\n  thumbwright check --explain ${first.code}\n`);
}

/** Errors are status 1; with --strict, warnings too. */
export function statusOf(findings: readonly Finding[], strict: boolean): ExitStatus {
  const stops = findings.some((finding) => finding.grade === 'error' || (strict && finding.grade === 'warning'));
  return stops ? 1 : 0;
}

function explainCode(shell: Shell, code: string): ExitStatus {
  const page = pageOf(code);
  if (page !== undefined) {
    shell.out(page);
    return 0;
  }
  const near = nearestNames(code, Object.keys(catalogue));
  shell.say(
    `thumbwright: no finding is called ${JSON.stringify(code)}.\n${near.length > 0 ? `Did you mean ${near.join(' or ')}?\n` : ''}All of them:\n  thumbwright check --codes\n`,
  );
  return 2;
}
