import type { Finding } from '../diagnostics/finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Refit } from '../model/refit.ts';
import { refitOf } from '../pipeline/refit-of.ts';
import { refitProfile } from '../pipeline/refit-profile.ts';
import type { Taken } from '../pipeline/refit-profile.ts';
import { findingJson } from '../report/json-findings.ts';
import { refitJson } from '../report/json-refit.ts';
import { refitText, takenText } from '../report/refit-text.ts';
import { encodeText } from '../text/encoding.ts';
import { sayFindings } from './say-findings.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeOut } from './write-out.ts';

export const run: VerbRun = (shell, args, options) => {
  const [from, more] = args;
  const to = text(options, 'to');
  if (from === undefined || more !== undefined || to === undefined) {
    shell.say('thumbwright: refit wants a profile and another one, as in:\n  thumbwright refit tarn --to mere\n');
    return 2;
  }
  const take = text(options, 'take');
  if (take !== undefined && !/^[1-9]$/.test(take)) {
    shell.say(
      `thumbwright: --take wants the number of a proposal, not ${JSON.stringify(visible(take))}.\nSee them:\n  thumbwright refit ${visible(from)} --to ${visible(to)}\n`,
    );
    return 2;
  }
  const chosen = chooseTargets(shell, [from, to]);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [here, there] = profiles;
  if (here === undefined || there === undefined) return 2;
  if (here.path === there.path) {
    shell.say('thumbwright: a profile fits itself already.\nGive another one after --to.\n');
    return 2;
  }
  const { value, findings } = refitProfile(project, here.path, there.path);
  if (value === undefined) {
    sayFindings(shell, findings);
    if (flag(options, 'json')) printJson(shell, undefined, [], findings);
    else shell.say(`thumbwright: both profiles must be readable before one is fitted to the other.\n`);
    return 1;
  }
  const told = refitOf(value, here.name, there.name);
  if (take === undefined) {
    if (flag(options, 'json')) printJson(shell, told, [], []);
    else {
      shell.out(refitText(told, shell.width));
      if (told.proposals.length > 0)
        shell.out(
          `\nTo write one into ${shell.show(there.path)}:\n  thumbwright refit ${visible(here.name)} --to ${visible(there.name)} --take 1\n`,
        );
    }
    return 0;
  }
  const taken = value.taken[Number(take) - 1];
  if (taken === undefined) {
    shell.say(`thumbwright: there is no proposal ${take}; there are ${told.proposals.length}.\n`);
    return 2;
  }
  return takeOne(shell, told, Number(take), taken, options);
};

async function takeOne(shell: Shell, told: Refit, number: number, taken: Taken, options: Options): Promise<ExitStatus> {
  const { file, findings, document } = taken;
  const json = flag(options, 'json');
  if (!json) shell.out(takenText(told, number, document.source.name, shell.width));
  if (findings.length > 0) {
    sayFindings(shell, findings);
    if (json) printJson(shell, told, [], findings);
    else shell.say(`thumbwright: proposal ${number} cannot be written as it stands. Nothing was written.\n`);
    return 1;
  }
  if (file === undefined || flag(options, 'dryRun')) {
    if (json) printJson(shell, told, [], []);
    return 0;
  }
  const answer = flag(options, 'yes') ? 'y' : await shell.ask('Write this? [y/N] ');
  if (!/^y(es)?$/i.test(answer?.trim() ?? '')) {
    shell.say(
      answer === undefined
        ? 'Nothing was written: nobody is there to answer. With --yes it is written unasked.\n'
        : 'Nothing was written.\n',
    );
    if (json) printJson(shell, told, [], []);
    return answer === undefined ? 1 : 0;
  }
  const written = writeOut(shell.files, [{ path: file.path, bytes: encodeText(file.text), mode: undefined }]);
  if (written.kind === 'failed') {
    shell.say(
      `thumbwright: ${shell.show(written.path)} cannot be written: ${written.why}.\nWhat was there before is still there.\nMake it writable, then run the same command again.\n`,
    );
    return 3;
  }
  const wrote = written.changed.map((at) => shell.show(at));
  if (json) printJson(shell, told, wrote, []);
  else
    shell.out(
      `${wrote.map((at) => `wrote ${at}\n`).join('')}See that it is as you mean it:\n  thumbwright check ${visible(told.to.profile)}\n`,
    );
  return 0;
}

function printJson(
  shell: Shell,
  refit: Refit | undefined,
  wrote: readonly string[],
  findings: readonly Finding[],
): void {
  const document = {
    thumbwright: version,
    document: 'refit',
    wrote,
    ...(refit === undefined ? {} : { refit: refitJson(refit) }),
    findings: findings.map(findingJson),
  };
  shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
}
