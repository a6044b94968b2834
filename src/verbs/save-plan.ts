import type { Plan } from '../model/plan.ts';
import { planDocument } from '../pipeline/plan-document.ts';
import { keepKey } from '../pipeline/private-store.ts';
import type { Project } from '../pipeline.ts';
import { encodeText } from '../text/encoding.ts';
import type { ExitStatus, Shell } from './contract.ts';

/** Keeps what was shown as a sealed document, to be carried out later. */
export function savePlan(shell: Shell, project: Project, file: string, plan: Plan, key: string): ExitStatus {
  if (!/\.json$/i.test(file)) {
    shell.say('thumbwright: the name of a plan ends in .json.\nAs in:\n  --plan fen-plan.json\n');
    return 2;
  }
  const path = shell.path(file);
  const kept = keepKey(project, key);
  const written = kept.kind === 'failed' ? kept : shell.files.write(path, encodeText(planDocument(plan)));
  if (written.kind === 'failed') {
    shell.say(`thumbwright: ${shell.show(path)} cannot be written: ${written.why}.\nThe card is as it was.\n`);
    return 3;
  }
  shell.out(
    `The plan is kept in ${shell.show(path)}; nothing was written to the card. No secret is in it.\nTo carry it out, exactly as shown:\n  thumbwright write ${shell.show(path)} --card DIR\n`,
  );
  return 0;
}
