import { visible } from '../diagnostics/visible.ts';
import type { ScopePoint } from '../model/resolved.ts';
import { wrap } from './wrap.ts';

interface ProposalLines {
  readonly setting: { readonly id: string; readonly type: { readonly kind: string } };
  readonly scope: ScopePoint;
  readonly grade: 'sure' | 'likely' | 'possible';
  readonly keys: readonly { readonly file: string; readonly key: string }[];
  readonly evidence: readonly string[];
  readonly rivals: readonly string[];
  readonly open?: string;
}

/** What was learnt, as it is told. */
export interface LearntLines {
  readonly files: readonly { readonly path: string; readonly format: { readonly syntax: string } }[];
  readonly controls:
    { readonly grade: string; readonly evidence: readonly string[]; readonly rivals: readonly string[] } | undefined;
  readonly proposals: readonly ProposalLines[];
  readonly noise: readonly { readonly file: string; readonly key: string; readonly why: string }[];
  readonly unexplained: readonly { readonly file: string; readonly key: string }[];
  readonly leftAlone: readonly { readonly path: string; readonly why: string }[];
  readonly unlearnt: readonly {
    readonly setting: { readonly id: string };
    readonly scope: ScopePoint;
    readonly why: string;
  }[];
  readonly questions: readonly { readonly ask: string }[];
}

/** One proposal: the setting, its keys, and why. */
export function proposalText({ setting, scope, keys, evidence, rivals, open }: ProposalLines, width: number): string {
  const narrowed = scope.system === undefined ? '' : ` for ${scope.system}`;
  const where = keys.map(({ file, key }) => `${visible(key)} in ${visible(file)}`).join(' and ');
  const against = rivals.length === 0 ? '' : ` Against it: ${rivals.map((rival) => visible(rival)).join('; ')}.`;
  const lacking = open === undefined ? '' : ` Not known yet: ${visible(open)}.`;
  const why = `${evidence.map((line) => visible(line)).join('; ')}.${lacking}${against}`;
  return `  ${setting.id}${narrowed}: ${where}\n${wrap(why, width, '    ')}`;
}

/** The whole of what was learnt, as text. Values of files are never in it. */
export function learntText(learnt: LearntLines, width: number): string {
  const lines: string[] = [];
  for (const { path, format } of learnt.files) lines.push(`${visible(path)}: ${format.syntax}`);
  for (const { path, why } of learnt.leftAlone) lines.push(`${visible(path)}: left alone, ${why}`);
  if (learnt.controls !== undefined) {
    lines.push('', `Controls (${learnt.controls.grade}):`);
    for (const line of learnt.controls.evidence) lines.push(wrap(`${visible(line)}.`, width, '  '));
    if (learnt.controls.rivals.length > 0)
      lines.push(wrap(`It could as well be ${learnt.controls.rivals.join(', or ')}.`, width, '  '));
  }
  for (const [grade, title] of [
    ['sure', 'Sure:'],
    ['likely', 'Likely:'],
    ['possible', 'Possible:'],
  ] as const) {
    const own = learnt.proposals.filter((proposal) => proposal.grade === grade);
    if (own.length > 0) lines.push('', title, ...own.map((proposal) => proposalText(proposal, width)));
  }
  if (learnt.noise.length > 0)
    lines.push(
      '',
      'Changed where nobody changed anything, so no setting:',
      ...learnt.noise.slice(0, 20).map(({ file, key, why }) => `  ${visible(key)} in ${visible(file)}: ${why}`),
    );
  if (learnt.unexplained.length > 0)
    lines.push(
      '',
      'Changed, and nothing that was told explains it:',
      ...learnt.unexplained.slice(0, 20).map(({ file, key }) => `  ${visible(key)} in ${visible(file)}`),
    );
  if (learnt.unlearnt.length > 0)
    lines.push(
      '',
      'Not learnt:',
      ...learnt.unlearnt.map(
        ({ setting, scope, why }) =>
          `  ${setting.id}${scope.system === undefined ? '' : ` for ${scope.system}`}: ${why}`,
      ),
    );
  if (learnt.questions.length > 0)
    lines.push('', 'This would settle the rest:', ...learnt.questions.map(({ ask }) => wrap(ask, width, '  ')));
  return `${lines.join('\n')}\n`;
}
