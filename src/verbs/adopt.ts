import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Adoption } from '../model/adoption.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import { prepareProfile } from '../pipeline.ts';
import type { CardFolders, PreparedParts, Project } from '../pipeline.ts';
import { adoptProfile } from '../pipeline/adopt-profile.ts';
import { cardRecords } from '../pipeline/card-records.ts';
import { settleByParts } from '../pipeline/confirm-pending.ts';
import { givenParts } from '../pipeline/given-parts.ts';
import { knowCard } from '../pipeline/know-card.ts';
import { writeSecret } from '../pipeline/write-secret.ts';
import { notByHand } from '../pipeline/not-by-hand.ts';
import { profileLike, withFile } from '../pipeline/profile-like.ts';
import { knownSecrets } from '../pipeline/known-secrets.ts';
import { adoptionText } from '../report/adoption-text.ts';
import { adoptionJson } from '../report/json-adoption.ts';
import { findingJson } from '../report/json-findings.ts';
import { encodeText } from '../text/encoding.ts';
import { settingById, settings } from '../vocabulary/registry.ts';
import { sayFindings } from './say-findings.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeOut } from './write-out.ts';

/** What is to be adopted into: a profile that is there, or the text of one that is to be made. */
interface Target {
  readonly project: Project;
  readonly name: string;
  readonly path: HostPath;
  /** Of a new profile, before anything is adopted into it. */
  readonly fresh: string | undefined;
}

export const run: VerbRun = async (shell, args, options) => {
  const card = cardFolders(shell, options);
  if (card === 'stop') return 2;
  const only = texts(options, 'only');
  const unknown = only.find((id) => settingById(id) === undefined);
  if (unknown !== undefined) return sayUnknownSetting(shell, unknown);
  const fresh = text(options, 'new');
  const target = fresh === undefined ? existing(shell, args) : made(shell, args, fresh, text(options, 'like'));
  if (typeof target === 'number') return target;
  if (card === undefined) {
    shell.say(
      `thumbwright: where is the card? Give the folder where each part of it is mounted:\n  thumbwright adopt ${target.name} --card games=/media/me/GAMES --card settings=/media/me/SETTINGS\n`,
    );
    return 2;
  }
  return adoptInto(shell, target, card, options);
};

async function adoptInto(shell: Shell, target: Target, card: CardFolders, options: Options): Promise<ExitStatus> {
  const { project, path, name, fresh } = target;
  const only = texts(options, 'only');
  const secrets = knownSecrets(project, shell.environment);
  const all = flag(options, 'all') || fresh !== undefined;
  const recorded = all ? { value: undefined, findings: [] } : recordOf(project, path, card);
  if (recorded.findings.some(({ grade }) => grade === 'error')) {
    // Without its record, what a hand changed cannot be told from what we wrote.
    sayFindings(shell, recorded.findings);
    if (flag(options, 'json')) printJson(shell, undefined, [], recorded.findings);
    return 1;
  }
  const known = recorded.value;
  const record = known?.record;
  const adopted = adoptProfile(project, path, {
    card,
    record,
    all,
    only: only.length === 0 ? undefined : new Set(only),
    at: text(options, 'at'),
    secretText: secrets.value,
    notByHand:
      known === undefined
        ? new Map()
        : await notByHand(project, known.parts, known.folders, known.record, secrets.value),
    alternatives: !all && text(options, 'at') === undefined,
  });
  const findings = [
    ...recorded.findings,
    ...secrets.findings,
    ...(adopted.value === undefined ? adopted.findings : []),
  ];
  sayFindings(shell, findings);
  if (adopted.value === undefined) {
    if (flag(options, 'json')) printJson(shell, undefined, [], findings);
    else
      shell.say(
        `thumbwright: ${visible(name)} cannot be compiled, so that nothing can be adopted into it.\nSee what is wrong:\n  thumbwright check ${visible(name)}\n`,
      );
    return 1;
  }
  const { told } = adopted.value;
  const files = wantedFiles(target, told);
  if (!flag(options, 'json')) shell.out(adoptionText(told));
  if (flag(options, 'dryRun') || (files.length === 0 && told.secrets.length === 0)) {
    if (flag(options, 'json')) printJson(shell, told, [], findings);
    return 0;
  }
  const answer = flag(options, 'yes') ? 'y' : await shell.ask('Write this? [y/N] ');
  if (!/^y(es)?$/i.test(answer?.trim() ?? '')) {
    shell.say(
      answer === undefined
        ? 'Nothing was written: nobody is there to answer. With --yes it is written unasked.\n'
        : 'Nothing was written.\n',
    );
    if (flag(options, 'json')) printJson(shell, told, [], findings);
    return answer === undefined ? 1 : 0;
  }
  // The secrets first: a profile that names one that is nowhere could not be written to a card.
  for (const secret of told.secrets) {
    const kept = writeSecret(shell.files, project.root, secret.name, secret.text);
    if (kept.length === 0) continue;
    sayFindings(shell, kept);
    shell.say('The profile was not touched.\n');
    return 3;
  }
  const written = writeOut(shell.files, files);
  if (written.kind === 'failed') {
    shell.say(
      `thumbwright: ${shell.show(written.path)} cannot be written: ${written.why}.\n${written.left.length === 0 ? 'What was there before is still there.' : `These could not be put back:\n${written.left.map((at) => `  ${shell.show(at)}\n`).join('')}`}\nMake it writable, then run the same command again.\n`,
    );
    return 3;
  }
  if (flag(options, 'json'))
    printJson(
      shell,
      told,
      written.changed.map((at) => shell.show(at)),
      findings,
    );
  else
    shell.out(
      `${written.changed.map((at) => `wrote ${shell.show(at)}\n`).join('')}See that it is as you mean it:\n  thumbwright check ${visible(name)}\n`,
    );
  return 0;
}

function wantedFiles(
  { path, fresh }: Target,
  told: Adoption,
): readonly { readonly path: HostPath; readonly bytes: Uint8Array; readonly mode: undefined }[] {
  const files = told.files.map((file) => ({ path: file.path, bytes: encodeText(file.text), mode: undefined }));
  return fresh === undefined || files.some((file) => file.path === path)
    ? files
    : [...files, { path, bytes: encodeText(fresh), mode: undefined }];
}

function existing(shell: Shell, args: readonly string[]): Target | ExitStatus {
  const [name, more] = args;
  if (name === undefined || more !== undefined) {
    shell.say('thumbwright: adopt wants one profile, as in:\n  thumbwright adopt fen --card DIR\n');
    return 2;
  }
  const chosen = chooseTargets(shell, [name]);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  return profile === undefined ? 2 : { project, name: profile.name, path: profile.path, fresh: undefined };
}

/** A new profile beside the one that it is like. */
function made(shell: Shell, args: readonly string[], name: string, like: string | undefined): Target | ExitStatus {
  if (args.length > 0 || like === undefined || !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(name)) {
    shell.say(
      'thumbwright: a new profile needs a name of small letters, digits and hyphens, and a profile of the same device, as in:\n  thumbwright adopt --new fen-as-found --like fen --card DIR\nWithout a profile yet, begin with what fetch brought:\n  thumbwright help new\n',
    );
    return 2;
  }
  const chosen = chooseTargets(shell, [like]);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [other] = profiles;
  if (other === undefined) return 2;
  const path = shell.files.join(other.path, '..', `${name}.yaml`);
  if (shell.files.kind(path) !== undefined) {
    shell.say(
      `thumbwright: ${shell.show(path)} is there already, and is left alone.\nChoose another name, or adopt into it:\n  thumbwright adopt ${name} --all --card DIR\n`,
    );
    return 1;
  }
  const drafted = profileLike(project, other.path, name);
  if (drafted.value === undefined) {
    sayFindings(shell, drafted.findings);
    shell.say(`thumbwright: ${visible(like)} cannot be read, so that nothing can be made like it.\n`);
    return 1;
  }
  const files = withFile(project.files, path, drafted.value);
  return { project: { ...project, files }, name, path, fresh: drafted.value };
}

interface Recorded {
  readonly record: CardRecord;
  readonly parts: PreparedParts;
  readonly folders: ReadonlyMap<string, HostPath>;
}

/** What we wrote to this card, where it says which it is, or where it can only be one; by a bundle that came too. */
function recordOf(project: Project, path: HostPath, card: CardFolders): Outcome<Recorded | undefined> {
  const { parts } = prepareProfile(project, path, false);
  if (parts === undefined) return { value: undefined, findings: [] };
  const { device } = parts.resolved;
  const { folders } = givenParts(project.files, [...device.parts.keys()], card);
  const records = cardRecords(project, device.id);
  const known = knowCard(project.files, device.id, folders, records.value);
  if (known.kind !== 'known') return { value: undefined, findings: records.findings };
  const settled = settleByParts(project, known.record, folders);
  return {
    value: { record: settled.value?.record ?? known.record, parts, folders },
    findings: [...records.findings, ...settled.findings],
  };
}

function printJson(
  shell: Shell,
  told: Adoption | undefined,
  wrote: readonly string[],
  findings: readonly Finding[],
): void {
  const document = {
    thumbwright: version,
    document: 'adopt',
    wrote,
    ...(told === undefined ? {} : { adoption: adoptionJson(told) }),
    findings: findings.map(findingJson),
  };
  shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
}

function sayUnknownSetting(shell: Shell, id: string): ExitStatus {
  const near = nearestNames(
    id,
    settings.map((setting) => setting.id),
  );
  shell.say(
    `thumbwright: no setting is called ${JSON.stringify(visible(id))}.\n${near.length > 0 ? `Did you mean ${near.join(' or ')}?\n` : ''}`,
  );
  return 2;
}
