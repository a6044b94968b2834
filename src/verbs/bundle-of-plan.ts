import { visible } from '../diagnostics/visible.ts';
import { cardRecords } from '../pipeline/card-records.ts';
import { settleByParts } from '../pipeline/confirm-pending.ts';
import { prepareProfile, profilePaths } from '../pipeline.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import type { PlanShown } from '../report/json-plan.ts';
import type { CarryWith } from './carry-out.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { saveBundle } from './save-bundle.ts';
import { stopWrite } from './stop-write.ts';

/**
 * Makes a bundle of a plan that was kept. What is written is the plan's; the profile only tells where the device mounts
 * its parts, and which programs rewrite their files.
 */
export async function bundleOfPlan(
  shell: Shell,
  options: Options,
  wanted: PlanShown,
  file: string,
  with_: Pick<CarryWith, 'project' | 'place' | 'secret' | 'key'>,
): Promise<ExitStatus> {
  const { project, place, secret, key } = with_;
  const { device, card } = wanted.plan;
  const parts = partsOf(project, device);
  if (parts === undefined) {
    shell.say(
      `thumbwright: there is no profile of ${visible(device)} here that can be read, which says where the device mounts its parts.\nStand in the folder where the plan was made, or copy the profile from there.\n`,
    );
    return 2;
  }
  const known = cardRecords(project, device).value.find((record) => record.card === card);
  const pending = known === undefined ? undefined : settleByParts(project, known, place.parts);
  if (pending?.findings.some(({ grade }) => grade === 'error') === true)
    return stopWrite(shell, options, pending.findings);
  const record = pending?.value?.record ?? known;
  return saveBundle(shell, options, wanted, file, { project, place, record }, { key, secret, parts });
}

function partsOf(project: Project, device: string): PreparedParts | undefined {
  for (const { path } of profilePaths(project)) {
    const { parts } = prepareProfile(project, path, false);
    if (parts?.resolved.device.id === device) return parts;
  }
  return undefined;
}
