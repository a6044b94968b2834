import { visible } from '../diagnostics/visible.ts';
import { newestFetched, withFetched } from '../pipeline/fetched-card.ts';
import { readMarkOf } from '../pipeline/know-card.ts';
import { givenParts } from '../pipeline/given-parts.ts';
import { openPlan, secretsOfPlan } from '../pipeline/plan-document.ts';
import { privateKey } from '../pipeline/private-store.ts';
import { recoverCard, planTargetFindings } from '../pipeline/reach-card.ts';
import { askedSecrets } from '../pipeline/secrets-for-card.ts';
import { openProject } from '../pipeline.ts';
import { planText } from '../report/plan-text.ts';
import { agreed } from './agreed.ts';
import { bundleOfPlan } from './bundle-of-plan.ts';
import { cardOptions, cardPlace, shellQuoted } from './card-place.ts';
import { carryOut } from './carry-out.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { saysFetched } from './says-fetched.ts';
import { stopWrite } from './stop-write.ts';
import { cardFolders } from './targets.ts';

/**
 * Carries out a plan that was kept, exactly, or makes a bundle of it; or refuses it because the card is no longer as it
 * was.
 */
export async function applyPlanFile(shell: Shell, file: string, options: Options): Promise<ExitStatus> {
  const given = cardFolders(shell, options);
  if (given === 'stop') return 2;
  const bundle = text(options, 'bundle');
  const path = shell.path(file);
  const opened = openPlan(shell.files, path, shell.show(path));
  if (opened.value === undefined) return stopWrite(shell, options, opened.findings);
  const plan = opened.value;
  const project = openProject(shell.files, shell.here).value;
  if (project === undefined) {
    shell.say(
      'thumbwright: no workspace here or in a folder above: the way back from a write is kept there.\nStand in the folder of the profiles, or begin one:\n  thumbwright new NAME\n',
    );
    return 2;
  }
  const names = plan.parts.map(({ name }) => name);
  const fetched = bundle === undefined ? undefined : newestFetched(project, plan.device);
  const card = withFetched(given, fetched);
  if (fetched !== undefined && card !== given && !saysFetched(shell, project, plan.device, fetched)) return 1;
  const { folders } = givenParts(shell.files, names, card ?? { whole: undefined, parts: new Map() });
  const missing = names.filter((name) => !folders.has(name));
  if (missing.length > 0) {
    shell.say(
      `thumbwright: the plan is for the parts ${names.join(' and ')} of ${visible(plan.device)}; say where each is mounted:\n  thumbwright write ${shell.show(path)} ${names.map((name) => `--card ${name}=DIR`).join(' ')}\n`,
    );
    return 2;
  }
  for (const { name, mark } of plan.parts) {
    const folder = folders.get(name);
    const carried = folder === undefined ? undefined : readMarkOf(shell.files, folder);
    if (carried === undefined ? mark : carried.card === plan.card && carried.device === plan.device) continue;
    shell.say(
      `thumbwright: the plan is for the card ${plan.card} of ${visible(plan.device)}, and the part ${name} ${carried === undefined ? 'does not say that it is' : `says that it is ${carried.card} of ${carried.device}`}.\nMount the card that the plan was made for, or make a new plan.\n`,
    );
    return 1;
  }
  const wrong = planTargetFindings(shell.disk, plan, folders, shell.home, (folder) => shell.show(folder));
  if (wrong.length > 0) return stopWrite(shell, options, wrong);
  const key = privateKey(project);
  const keyed = plan.files.some(
    (one) => one.act !== 'nothing' && (one.before?.keyed === true || (one.act === 'restore' && one.backup.keyed)),
  );
  if (key === undefined && keyed) {
    shell.say(
      'thumbwright: files of the plan hold secrets, or may hold passwords of others, and are told apart by the private key of the folder where the plan was made.\nCopy .thumbwright/private/key from there to here, for your eyes only, or make the plan here.\n',
    );
    return 1;
  }
  const place = cardPlace(shell, project, { card: plan.card, device: plan.device, named: plan.device, parts: folders });
  const mended = recoverCard(place);
  sayFindings(shell, mended.findings);
  if (mended.value.kind === 'failed') return 3;
  if (mended.value.kind === 'locked') return 1;
  const secrets = await askedSecrets(project, secretsOfPlan(plan), shell.environment, (name) =>
    shell.ask(`The value of secret:${name}: `, 'hidden'),
  );
  if (secrets.findings.some(({ grade }) => grade === 'error')) return stopWrite(shell, options, secrets.findings);
  if (!flag(options, 'json'))
    shell.out(`${plan.device} and its card, by the plan:\n${planText(plan, flag(options, 'all'))}`);
  if (flag(options, 'dryRun')) {
    shell.out('This was a dry run: nothing was written.\n');
    return 0;
  }
  const wanted = { plan, news: [], unreached: [] };
  const secret = secrets.value;
  if (bundle !== undefined)
    return bundleOfPlan(shell, options, wanted, bundle, {
      project,
      place,
      secret,
      key: key ?? `${shell.token()}${shell.token()}`,
    });
  if (
    !(await agreed(
      shell,
      options,
      plan,
      `thumbwright write ${shellQuoted(shell.show(path))} ${cardOptions(shell, folders)}`,
    ))
  )
    return 1;
  return carryOut(shell, options, wanted, {
    project,
    place,
    key: key ?? `${shell.token()}${shell.token()}`,
    secret,
    secrets: secretsOfPlan(plan),
    own: [],
  });
}
