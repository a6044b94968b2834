import type { Finding } from '../diagnostics/finding.ts';
import { overlayFiles } from '../files/overlay.ts';
import type { Said } from '../pipeline/plan-write.ts';
import type { HostPath } from '../model/paths.ts';
import { projectLock, runProfile } from '../pipeline.ts';
import type { PreparedParts } from '../pipeline.ts';
import { acceptVersions, otherVersions } from '../pipeline/accept-versions.ts';
import type { OtherVersion } from '../pipeline/accept-versions.ts';
import { carryPlan } from '../pipeline/carry-plan.ts';
import { cardVersions } from '../pipeline/card-versions.ts';
import { keepKey, keepSeen, privateKey, readSeen } from '../pipeline/private-store.ts';
import { cardReader, planWrite } from '../pipeline/plan-write.ts';
import type { WritePlan } from '../pipeline/plan-write.ts';
import { secretsForCard } from '../pipeline/secrets-for-card.ts';
import { findingJson } from '../report/json-findings.ts';
import { planJson } from '../report/json-plan.ts';
import { newsText } from '../report/news-text.ts';
import { planText } from '../report/plan-text.ts';
import { tally } from '../report/terminal/findings.ts';
import { count } from '../report/wrap.ts';
import { encodeText } from '../text/encoding.ts';
import { askHandChanges } from './ask-hand-changes.ts';
import { flag } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { confirmed, openCard, sayFindings } from './open-card.ts';
import type { OpenCard } from './open-card.ts';
import { statusOf } from './check.ts';
import { version } from './version.ts';
import { writeOut } from './write-out.ts';

export const run: VerbRun = async (shell, args, options) => {
  const opened = await openCard(shell, 'write', args, options);
  if (typeof opened === 'number') return opened;
  const settled = await settleVersions(shell, opened, options);
  if (typeof settled === 'number') return settled;
  const { parts, findings, accepted } = settled;
  const status = statusOf(findings, flag(options, 'strict'));
  if (status !== 0) return stop(shell, options, findings);

  const dry = flag(options, 'dryRun');
  const secrets = await secretsForCard(
    opened.project,
    parts,
    shell.environment,
    dry ? undefined : (name) => shell.ask(`The value of secret:${name}: `, 'hidden'),
  );
  if (statusOf([...findings, ...secrets.findings], false) !== 0 && !dry)
    return stop(shell, options, [...findings, ...secrets.findings]);
  const key = privateKey(opened.project) ?? `${shell.token()}${shell.token()}`;
  const seen = readSeen(opened.project, opened.id);
  const plan = (answers: ReadonlyMap<string, Said>): ReturnType<typeof planWrite> =>
    planWrite(opened.project.files, {
      parts,
      folders: opened.folders,
      card: opened.id,
      record: opened.record,
      mark: opened.bare,
      versions: settled.versions,
      secret: secrets.value,
      key,
      takeProfile: flag(options, 'takeProfile'),
      answers,
      seen: (path) => seen.get(path),
    });
  let planned = plan(new Map());
  if (statusOf(planned.findings, false) !== 0) return stop(shell, options, [...findings, ...planned.findings]);
  const asked =
    dry || flag(options, 'yes') || flag(options, 'json')
      ? new Map<string, Said>()
      : await askHandChanges(shell, planned.value.plan);
  if (asked.size > 0) planned = plan(asked);
  show(shell, options, opened, planned.value, [...findings, ...planned.findings]);
  if (dry) return 0;
  const { value: wanted } = planned;
  const acting = wanted.plan.files.filter((file) => file.act !== 'nothing');
  const yes = flag(options, 'yes');
  if (wanted.plan.saveRisks.length > 0 && !flag(options, 'savesMayMove')) {
    if (
      yes ||
      !(await confirmed(
        shell,
        'Saves or states made so far may not be found, or not be read. Go on all the same? [y/N] ',
      ))
    ) {
      shell.say(
        `Nothing was written: saves and states are at stake.\nKeep a copy of them, then say that you mean it:\n  ${opened.place.commands.write} --saves-may-move\n`,
      );
      return 1;
    }
  }
  if (
    acting.length > 0 &&
    !yes &&
    !(await confirmed(shell, `Write ${count(acting.length, 'file')} to this card? [y/N] `))
  ) {
    shell.say(`Nothing was written.\nTo write without being asked:\n  ${opened.place.commands.write} --yes\n`);
    return 1;
  }
  return carryOut(shell, options, opened, wanted, { key, secret: secrets.value, accepted });
};

/** The profile with the card's versions in it, where they differ and the person says yes. */
async function settleVersions(
  shell: Shell,
  opened: OpenCard,
  options: Options,
): Promise<
  | {
      readonly parts: PreparedParts;
      readonly findings: readonly Finding[];
      readonly versions: ReadonlyMap<string, string | undefined>;
      readonly accepted: ReadonlyMap<HostPath, Uint8Array>;
    }
  | ExitStatus
> {
  const { project, parts, folders } = opened;
  const read = cardReader(project.files, folders);
  const found = await cardVersions(parts.resolved.instances, parts.dialects, (path) => {
    const text = read(path);
    return text.kind === 'text' ? text.source : undefined;
  });
  const versions = new Map(found.map(({ instance, found: card }) => [instance, card] as const));
  const others = otherVersions(parts, found);
  if (others.findings.length > 0) return stop(shell, options, others.findings);
  if (others.value.length === 0) return { parts, findings: opened.run.findings, versions, accepted: new Map() };
  const told = others.value.map(otherLine).join('');
  shell.say(`The card has other versions than the profile says:\n${told}`);
  const yes =
    flag(options, 'acceptVersion') ||
    (!flag(options, 'yes') &&
      !flag(options, 'dryRun') &&
      (await confirmed(shell, 'Write them into the profile and go on? [y/N] ')));
  if (!yes && !flag(options, 'dryRun')) {
    shell.say(
      `Nothing was written: what a key means hangs on the version.\nTo take the card's versions into the profile:\n  ${opened.place.commands.write} --accept-version\n`,
    );
    return 1;
  }
  const edited = acceptVersions(parts, others.value);
  if (edited.findings.length > 0) return stop(shell, options, edited.findings);
  if (edited.value.inPackages.length > 0) {
    shell.say(
      `Nothing was written: the version of ${edited.value.inPackages.join(' and ')} is said in a package, which is not yours to change.\nWrite it into the profile:\n  version: …\n`,
    );
    return 1;
  }
  const accepted = new Map([...edited.value.files].map(([path, { bytes }]) => [path, bytes] as const));
  const again = runProfile(
    { ...project, files: overlayFiles(project.files, accepted), dialects: new Map(), catalogs: new Map() },
    opened.path,
    { card: opened.card, newest: false },
  );
  if (again.parts === undefined) return stop(shell, options, again.findings);
  return { parts: again.parts, findings: again.findings, versions, accepted };
}

function otherLine({ instance, profile, card }: OtherVersion): string {
  return `  ${instance}: ${card} on the card, ${profile ?? 'none'} in the profile\n`;
}

function stop(shell: Shell, options: Options, findings: readonly Finding[]): ExitStatus {
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
  const same = wanted.plan.files.flatMap((file) => file.keys).filter((key) => key.class === 'same').length;
  if (shown === '')
    shell.out(
      `${opened.run.name}: the card says what the profile says (${count(same, 'key')}); nothing is to be written.\n`,
    );
  else
    shell.out(
      `${opened.run.name} and its card:\n${shown}${same > 0 ? `${count(same, 'key')} the same already.\n` : ''}`,
    );
  for (const { part, files, keys } of wanted.unreached)
    shell.out(`The part ${part} was not given: ${count(files, 'file')} with ${count(keys, 'key')} are not touched.\n`);
  if (flag(options, 'dryRun')) shell.out('This was a dry run: nothing was written.\n');
}

function carryOut(
  shell: Shell,
  options: Options,
  opened: OpenCard,
  wanted: WritePlan,
  with_: {
    readonly key: string;
    readonly secret: (name: string) => string | undefined;
    readonly accepted: ReadonlyMap<HostPath, Uint8Array>;
  },
): ExitStatus {
  const { project } = opened;
  const kept = keepKey(project, with_.key);
  if (kept.kind === 'failed') return workspaceFailed(shell, kept.why);
  const lock = projectLock(project, [opened.run]);
  const own = writeOut(project.files, [
    ...[...with_.accepted].map(([path, bytes]) => ({ path, bytes, mode: undefined })),
    ...(lock === undefined ? [] : [{ path: lock.path, bytes: encodeText(lock.text), mode: undefined }]),
  ]);
  if (own.kind === 'failed') return workspaceFailed(shell, own.why);
  const carried = carryPlan(project.files, {
    plan: wanted.plan,
    place: opened.place,
    secret: with_.secret,
    key: with_.key,
  });
  if (carried.value === undefined) return stop(shell, options, carried.findings);
  const { applied, texts } = carried.value;
  const json = flag(options, 'json');
  if (!json) sayFindings(shell, carried.findings);
  switch (applied.kind) {
    case 'refused':
    case 'locked':
      if (json) return stop(shell, options, carried.findings);
      shell.say('Nothing was written.\n');
      return 1;
    case 'failed':
      if (json) stop(shell, options, carried.findings);
      return 3;
    case 'nothing':
    case 'done': {
      const seen = keepSeen(project, opened.id, texts);
      if (seen.kind === 'failed')
        shell.say(`The card is written; what it holds could not be kept for the next time: ${seen.why}.\n`);
      const files = applied.kind === 'done' ? applied.files : [];
      if (json) shell.out(`${JSON.stringify(planJson(version, wanted, files, carried.findings), undefined, 2)}\n`);
      else if (files.length > 0) {
        shell.out(`Written and read back: ${count(files.length, 'file')}.\n`);
        if (wanted.secrets.length > 0)
          shell.out(
            `The card now holds ${count(new Set(wanted.secrets.map(({ name }) => name)).size, 'password')} in plain text: whoever has the card can read them.\n`,
          );
        shell.out(`Eject the card before you pull it. To take this back:\n  ${opened.place.commands.undo}\n`);
      }
      return 0;
    }
  }
}

function workspaceFailed(shell: Shell, why: string): ExitStatus {
  shell.say(
    `thumbwright: the folder of the profiles cannot be written: ${why}.\nThe card is as it was. Make the folder writable, then run the same command again.\n`,
  );
  return 3;
}
