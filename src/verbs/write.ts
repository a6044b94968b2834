import type { Finding } from '../diagnostics/finding.ts';
import { visible } from '../diagnostics/visible.ts';
import { projectLock } from '../pipeline.ts';
import { fetchedTrees } from '../pipeline/fetched-trees.ts';
import { privateKey, readSeen } from '../pipeline/private-store.ts';
import { planWrite } from '../pipeline/plan-write.ts';
import type { Said, WritePlan } from '../pipeline/plan-write.ts';
import { cautionFor } from '../pipeline/secrets-caution.ts';
import { writeSecret } from '../pipeline/write-secret.ts';
import { secretsForCard } from '../pipeline/secrets-for-card.ts';
import { planJson } from '../report/json-plan.ts';
import { updatePage } from '../report/html/update-page.ts';
import { newsText } from '../report/news-text.ts';
import { planText } from '../report/plan-text.ts';
import { count } from '../report/wrap.ts';
import { encodeText } from '../text/encoding.ts';
import { agreed } from './agreed.ts';
import { applyPlanFile } from './apply-plan-file.ts';
import { askHandChanges } from './ask-hand-changes.ts';
import { carryOut } from './carry-out.ts';
import { statusOf } from './check.ts';
import { flag, text } from './contract.ts';
import type { Options, Shell, VerbRun } from './contract.ts';
import { openCard } from './open-card.ts';
import { sayFindings } from './say-findings.ts';
import type { OpenCard } from './open-card.ts';
import { saveBundle } from './save-bundle.ts';
import { savePage } from './save-page.ts';
import { savePlan } from './save-plan.ts';
import { settleVersions } from './settle-versions.ts';
import { stopWrite } from './stop-write.ts';
import { takeIntoProfile } from './take-into-profile.ts';
import type { Taken } from './take-into-profile.ts';
import { version } from './version.ts';

export const run: VerbRun = async (shell, args, options) => {
  const [what, more] = args;
  if (what !== undefined && more === undefined && /\.json$/i.test(what)) return applyPlanFile(shell, what, options);
  const opened = await openCard(shell, 'write', args, options);
  if (typeof opened === 'number') return opened;
  const settled = await settleVersions(shell, opened, options);
  if (typeof settled === 'number') return settled;
  const { parts, findings, accepted } = settled;
  const status = statusOf(findings, flag(options, 'strict'));
  if (status !== 0) return stopWrite(shell, options, findings);

  const dry = flag(options, 'dryRun');
  const secrets = await secretsForCard(
    opened.project,
    parts,
    shell.environment,
    dry ? undefined : (name) => shell.ask(`The value of secret:${name}: `, 'hidden'),
  );
  if (statusOf([...findings, ...secrets.findings], false) !== 0 && !dry)
    return stopWrite(shell, options, [...findings, ...secrets.findings]);
  const key = privateKey(opened.project) ?? `${shell.token()}${shell.token()}`;
  const seen = readSeen(opened.project, opened.id);
  const fetched = await fetchedTrees(opened.project, parts, settled.versions);
  let taken: Taken | undefined;
  const secretOf = (name: string): string | undefined =>
    taken?.secrets.find((found) => found.name === name)?.text ?? secrets.value(name);
  const plan = (answers: ReadonlyMap<string, Said>): ReturnType<typeof planWrite> =>
    planWrite(opened.project.files, {
      parts: taken?.parts ?? parts,
      folders: opened.folders,
      card: opened.id,
      record: opened.record,
      mark: opened.bare,
      versions: settled.versions,
      fetched,
      secret: secretOf,
      key,
      takeProfile: flag(options, 'takeProfile'),
      answers,
      stillPending: opened.stillPending,
      seen: (path) => seen.get(path),
    });
  let planned = plan(new Map());
  if (statusOf(planned.findings, false) !== 0) return stopWrite(shell, options, [...findings, ...planned.findings]);
  const asked =
    dry || flag(options, 'yes') || flag(options, 'json')
      ? { said: new Map<string, Said>(), intoProfile: [] }
      : // A plan is of the card alone.
        await askHandChanges(shell, planned.value.plan, text(options, 'plan') === undefined);
  if (asked.intoProfile.length > 0) taken = takeIntoProfile(shell, opened, asked.intoProfile, accepted, secrets.value);
  if (asked.said.size > 0 || taken !== undefined) planned = plan(asked.said);
  const acting = planned.value.plan.files.some((file) => file.act !== 'nothing');
  const cautions = acting ? cautionFor(planned.value.secrets, parts.resolved) : [];
  show(shell, options, opened, planned.value, [...findings, ...planned.findings, ...cautions]);
  const page = text(options, 'html');
  if (page !== undefined && !savePage(shell, page, updatePage(opened.run.name, planned.value.news))) return 3;
  if (dry) return 0;
  const { value: wanted } = planned;
  const saveTo = text(options, 'plan');
  if (saveTo !== undefined) return savePlan(shell, opened.project, saveTo, wanted.plan, key);
  const bundleTo = text(options, 'bundle');
  if (bundleTo !== undefined)
    return saveBundle(shell, options, wanted, bundleTo, opened, { key, secret: secrets.value, parts });
  if (!(await agreed(shell, options, wanted.plan, opened.place.commands.write))) return 1;
  // The secrets first: a profile that names one that is nowhere could not be written to a card.
  for (const { name, text: found } of taken?.secrets ?? []) {
    const kept = writeSecret(opened.project.files, opened.project.root, name, found);
    if (kept.length === 0) continue;
    sayFindings(shell, kept);
    shell.say('Nothing was written.\n');
    return 3;
  }
  const lock = projectLock(opened.project, [opened.run]);
  return carryOut(shell, options, wanted, {
    project: opened.project,
    place: opened.place,
    key,
    secret: secretOf,
    // Told before the question.
    secrets: [],
    own: [
      ...[...(taken?.own ?? accepted)].map(([path, bytes]) => ({ path, bytes, mode: undefined })),
      ...(lock === undefined ? [] : [{ path: lock.path, bytes: encodeText(lock.text), mode: undefined }]),
    ],
  });
};

function show(shell: Shell, options: Options, opened: OpenCard, wanted: WritePlan, findings: readonly Finding[]): void {
  if (flag(options, 'json')) {
    if (flag(options, 'dryRun'))
      shell.out(`${JSON.stringify(planJson(version, wanted, [], findings), undefined, 2)}\n`);
    return;
  }
  sayFindings(shell, findings);
  const news = newsText(wanted.news);
  if (news !== '') shell.out(`${news}\n`);
  const shown = planText(wanted.plan, flag(options, 'all'));
  const keys = wanted.plan.files.flatMap((file) => file.keys);
  const same = keys.filter((key) => key.class === 'same').length;
  const yours = keys.filter((key) => key.class === 'answered' || key.class === 'let-alone').length;
  if (shown === '')
    shell.out(
      `${opened.run.name}: the card says what the profile says (${count(same, 'key')}${yours > 0 ? `, and ${yours} as you said` : ''}); nothing is to be written.\n`,
    );
  else
    shell.out(
      `${opened.run.name} and its card:\n${shown}${same > 0 ? `${count(same, 'key')} the same already.\n` : ''}`,
    );
  for (const { part, files, keys: left } of wanted.unreached)
    shell.out(`The part ${part} was not given: ${count(files, 'file')} with ${count(left, 'key')} are not touched.\n`);
  // A bundle runs on the device, and waits for them itself.
  if (wanted.rewriters.length > 0 && text(options, 'bundle') === undefined)
    shell.out(
      `${wanted.rewriters.map((name) => visible(name)).join(' and ')} ${wanted.rewriters.length === 1 ? 'writes its' : 'write their'} files again when ${wanted.rewriters.length === 1 ? 'it ends' : 'they end'}: power the device off first (not to sleep), or this is undone.\n`,
    );
  if (flag(options, 'dryRun')) shell.out('This was a dry run: nothing was written.\n');
}
