import type { Finding } from '../diagnostics/finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { HostPath } from '../model/paths.ts';
import { openProject, profilePaths } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { learnCopies, standingParts, writeDialect } from '../pipeline/learn-copies.ts';
import type { CopyFolder, LabelWritten, Learnt } from '../pipeline/learn-copies.ts';
import { sheetOf } from '../pipeline/sheet-of.ts';
import { findingJson } from '../report/json-findings.ts';
import { learntText } from '../report/learnt-text.ts';
import { count } from '../report/wrap.ts';
import { decodeBytes } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import { agreeLearnt } from './agree-learnt.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { learntJson } from './learnt-json.ts';
import { roleOption } from './role-option.ts';
import { sayFindings } from './say-findings.ts';
import { chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeResult } from './write-result.ts';

/** `learn [PROFILE] COPY...`: learns from copies of a frontend's folder, and writes or extends its dialect. */
export async function learnFromCopies(shell: Shell, args: readonly string[], options: Options): Promise<ExitStatus> {
  const chosen = chooseDevice(shell, args);
  if (typeof chosen === 'number') return chosen;
  const { project, profile, folders } = chosen;
  const frontend = text(options, 'frontend');
  const roles = roleOption(options);
  if (frontend === undefined || !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(frontend) || typeof roles === 'string') {
    shell.say(
      `thumbwright: say what the frontend is called here (letters, digits, hyphens)${typeof roles === 'string' ? `: ${roles}` : '.'}\nAs in:\n  thumbwright learn fern before after --frontend player --changed saves.state-on-exit=true\n`,
    );
    return 2;
  }
  const copies = copiesIn(shell, folders, text(options, 'folder'));
  if (typeof copies === 'number') return copies;
  const sheet = flag(options, 'bySheet')
    ? sheetOf(project, profile, { firstTen: flag(options, 'firstTen'), roles, stays: {} }).value
    : undefined;
  const labels: readonly LabelWritten[] = [
    ...texts(options, 'changed').map((one) => ({ text: one, told: 'changed' }) as const),
    ...texts(options, 'stands').map((one) => ({ text: one, told: 'stands' }) as const),
  ];
  const outcome = learnCopies(project, {
    profile,
    frontend,
    copies,
    labels,
    ...(sheet === undefined ? {} : { sheet }),
  });
  if (outcome.kind === 'wrong') {
    for (const fault of outcome.faults) shell.say(`thumbwright: ${visible(fault)}\n`);
    return 2;
  }
  const json = flag(options, 'json');
  const print = (wrote: readonly string[], findings: readonly Finding[], learnt?: Learnt): void => {
    if (json) shell.out(`${JSON.stringify(jsonDocument(wrote, findings, learnt), undefined, 2)}\n`);
  };
  sayFindings(shell, outcome.findings);
  if (outcome.kind === 'unreadable') {
    print([], outcome.findings);
    return 1;
  }
  const { learnt } = outcome.value;
  if (outcome.findings.some(({ grade }) => grade === 'error')) {
    print([], outcome.findings, learnt);
    return 1;
  }
  const path = dialectPath(shell, project, frontend, options);
  const standing = standingDialect(shell, path);
  if (!json) shell.out(learntText(learnt, shell.width));
  if (flag(options, 'dryRun')) {
    print([], outcome.findings, learnt);
    return 0;
  }
  const agreed = await agreeLearnt(shell, learnt, standingParts(standing), texts(options, 'take'));
  if (typeof agreed === 'number') return agreed;
  const { taken, controls, unasked } = agreed;
  if (unasked > 0)
    shell.say(
      `Nobody is there to say whether the ${count(unasked, 'likely one')} ${unasked === 1 ? 'is' : 'are'} right. To take all of it unasked:\n  --take likely\n`,
    );
  if (taken.length === 0 && !controls) {
    shell.say('Nothing was written: nothing is sure, and nobody said yes to the rest.\n');
    print([], outcome.findings, learnt);
    return 1;
  }
  const writing = writeDialect(frontend, roles, learnt, taken, controls, standing);
  sayFindings(shell, writing.findings);
  const findings = [...outcome.findings, ...writing.findings];
  if (writing.findings.some(({ grade }) => grade === 'error')) {
    print([], findings, learnt);
    return 1;
  }
  for (const id of writing.otherwise)
    shell.say(
      `${id} is spelled otherwise in ${shell.show(path)} already: that stays. Take it out there to learn it anew.\n`,
    );
  const same = standing?.text === writing.text;
  if (!same && !writeResult(shell, path, writing.text)) return 3;
  shell.say(same ? `${shell.show(path)} says all of it already.\n` : `wrote ${shell.show(path)}\n`);
  print(same ? [] : [shell.show(path)], findings, learnt);
  return 0;
}

function jsonDocument(wrote: readonly string[], findings: readonly Finding[], learnt: Learnt | undefined): object {
  return {
    thumbwright: version,
    document: 'learn',
    wrote,
    ...(learnt === undefined ? {} : { learnt: learntJson(learnt) }),
    findings: findings.map(findingJson),
  };
}

/** The device that the copies come from: the profile that is named, or the only one there is. */
function chooseDevice(
  shell: Shell,
  args: readonly string[],
): { readonly project: Project; readonly profile: HostPath; readonly folders: readonly string[] } | ExitStatus {
  const [first = ''] = args;
  const opened = openProject(shell.files, shell.here).value;
  const all = opened === undefined ? [] : profilePaths(opened);
  const named = all.some(({ name }) => name === first) || shell.files.kind(shell.path(first)) !== 'folder';
  const chosen = chooseTargets(shell, named ? [first] : []);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  const folders = named ? args.slice(1) : args;
  if (profile === undefined || profiles.length > 1 || folders.length === 0) {
    shell.say(
      'thumbwright: learn wants the profile of the device, and copies of the folder in the order in which they were taken.\nAs in:\n  thumbwright learn fern before after --frontend player --changed saves.state-on-exit=true\n',
    );
    return 2;
  }
  return { project, profile: profile.path, folders };
}

/** The copies: each folder that is named; of a folder of numbered runs of fetch, each run in order. */
function copiesIn(
  shell: Shell,
  written: readonly string[],
  inner: string | undefined,
): readonly CopyFolder[] | ExitStatus {
  const { files } = shell;
  const found: CopyFolder[] = [];
  for (const one of written) {
    const folder = shell.path(one);
    const inside = files.list(folder);
    if (inside === undefined) {
      shell.say(
        `thumbwright: ${shell.show(folder)} is no folder that can be read.\nGive a copy of the frontend's folder.\n`,
      );
      return 2;
    }
    const runs = inside
      .filter(({ name, kind }) => kind === 'folder' && /^[1-9]\d{0,5}$/.test(name))
      .sort((a, b) => Number(a.name) - Number(b.name));
    const all =
      runs.length > 0 && runs.length === inside.filter(({ kind }) => kind === 'folder').length
        ? runs.map(({ name }) => files.join(folder, name))
        : [folder];
    for (const run of all) {
      const own = frontendFolder(shell, run, inner);
      if (typeof own === 'number') return own;
      found.push({ folder: own, name: shell.show(run) });
    }
  }
  return found;
}

/** In a run of fetch, the folder of the one frontend that is meant; any other folder is a copy itself. */
function frontendFolder(shell: Shell, run: HostPath, inner: string | undefined): HostPath | ExitStatus {
  const { files } = shell;
  if (files.kind(files.join(run, 'DONE.txt')) !== 'file') return run;
  const names = (files.list(files.join(run, 'files')) ?? []).flatMap(({ name, kind }) =>
    kind === 'folder' ? [name] : [],
  );
  const wanted = inner ?? (names.length === 1 ? names[0] : undefined);
  if (wanted !== undefined && names.includes(wanted)) return files.join(run, 'files', wanted);
  shell.say(
    `thumbwright: ${shell.show(run)} holds the folders ${names.map((name) => visible(name)).join(', ')}.\nSay which one is the frontend's:\n  --folder ${visible(names[0] ?? 'NAME')}\n`,
  );
  return 2;
}

function dialectPath(shell: Shell, project: Project, frontend: string, options: Options): HostPath {
  const written = text(options, 'dialect');
  return written === undefined
    ? shell.files.join(project.profiles, 'dialects', `${frontend}.yaml`)
    : shell.path(written);
}

function standingDialect(shell: Shell, path: HostPath): SourceText | undefined {
  const read = shell.files.read(path);
  return read.kind === 'bytes' ? { name: shell.show(path), text: decodeBytes(read.bytes) } : undefined;
}
