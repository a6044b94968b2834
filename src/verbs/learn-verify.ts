import { prepareProfile } from '../pipeline.ts';
import { verifyFrontend } from '../pipeline/verify-frontend.ts';
import { verifyText } from '../report/verify-text.ts';
import { visible } from '../diagnostics/visible.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { text } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { chooseTargets } from './targets.ts';

/** `learn PROFILE --verify FOLDER --frontend NAME`: plays the frontend's dialect through on a copy of its folder. */
export function learnVerify(shell: Shell, args: readonly string[], options: Options, written: string): ExitStatus {
  const chosen = chooseTargets(shell, args.slice(0, 1));
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  const folder = shell.path(written);
  if (profile === undefined || profiles.length > 1) {
    shell.say(
      'thumbwright: say whose frontend it is, as in:\n  thumbwright learn fern --verify FOLDER --frontend NAME\n',
    );
    return 2;
  }
  if (shell.files.kind(folder) !== 'folder') {
    shell.say(`thumbwright: ${shell.show(folder)} is not a folder.\nGive a copy of the frontend's folder.\n`);
    return 2;
  }
  const names = prepareProfile(project, profile.path, false).parts?.resolved.instances.map(({ name }) => name) ?? [];
  const wanted = text(options, 'frontend') ?? (names.length === 1 ? names[0] : undefined);
  if (wanted === undefined || !names.includes(wanted)) {
    shell.say(
      `thumbwright: ${wanted === undefined ? 'say which frontend the folder is of' : `${profile.name} has no frontend ${JSON.stringify(visible(wanted))} with a dialect`}.\nThere are: ${names.map((name) => visible(name)).join(', ')}. As in:\n  thumbwright learn ${profile.name} --verify ${shell.show(folder)} --frontend ${names[0] ?? 'NAME'}\n`,
    );
    return 2;
  }
  const { value, findings } = verifyFrontend(project, profile.path, wanted, folder);
  if (value === undefined) {
    sayFindings(shell, findings);
    return 1;
  }
  shell.out(verifyText(value, shell.width));
  return value.faults === 0 ? 0 : 1;
}
