import { isBehind } from '../pipeline/fetched-card.ts';
import type { HostPath } from '../model/paths.ts';
import type { Project } from '../pipeline.ts';
import type { Shell } from './contract.ts';

/**
 * Says that what was fetched stands for the parts that were not given. False where a bundle changed the device since: what
 * that wrote would look like changes by hand, which the next one leaves.
 */
export function saysFetched(shell: Shell, project: Project, device: string, fetched: HostPath): boolean {
  if (isBehind(project, device)) {
    shell.say(
      `thumbwright: ${shell.show(fetched)} is older than the bundle that the device ran since: what that wrote would look like changes by hand.\nRun the script that brings the files once more on the device, bring them, then run the same command again:\n  thumbwright fetch CARD/thumbwright-fetch\n`,
    );
    return false;
  }
  shell.say(`Parts that were not given are as ${shell.show(fetched)} has them.\n`);
  return true;
}
