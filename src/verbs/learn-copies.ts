import { visible } from '../diagnostics/visible.ts';
import type { HostPath } from '../model/paths.ts';
import { openProject, profilePaths } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { learnCopies, writeDialect } from '../pipeline/learn-copies.ts';
import type { CopyFolder, LabelWritten, Learnt, Proposal } from '../pipeline/learn-copies.ts';
import { sheetOf } from '../pipeline/sheet-of.ts';
import { learntText, proposalText } from '../report/learnt-text.ts';
import { decodeBytes } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Role } from '../vocabulary/types.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeResult } from './write-result.ts';

const roles: readonly Role[] = ['player', 'menu', 'shelf', 'system'];

/** `learn [PROFILE] COPY...`: learns from copies of a frontend's folder, and writes or extends its dialect. */
export async function learnFromCopies(shell: Shell, args: readonly string[], options: Options): Promise<ExitStatus> {
  const chosen = chooseDevice(shell, args);
  if (typeof chosen === 'number') return chosen;
  const { project, profile, folders } = chosen;
  const frontend = text(options, 'frontend');
  const role = roles.find((one) => one === (text(options, 'role') ?? 'player'));
  if (frontend === undefined || !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(frontend) || role === undefined) {
    shell.say(
      `thumbwright: say what the frontend is called here (letters, digits, hyphens)${role === undefined ? `, and its role: ${roles.join(', ')}` : ''}.\nAs in:\n  thumbwright learn fern before after --frontend player --changed saves.state-on-exit=true\n`,
    );
    return 2;
  }
  const copies = copiesIn(shell, folders, text(options, 'folder'));
  if (typeof copies === 'number') return copies;
  const sheet = flag(options, 'bySheet')
    ? sheetOf(project, profile, { firstTen: flag(options, 'firstTen'), roles: [role], stays: {} }).value
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
  sayFindings(shell, outcome.findings);
  if (outcome.kind === 'unreadable' || outcome.findings.some(({ grade }) => grade === 'error')) return 1;
  const { learnt } = outcome.value;
  const path = dialectPath(shell, project, frontend, options);
  const standing = standingDialect(shell, path);
  if (flag(options, 'json')) shell.out(`${JSON.stringify(learntJson(learnt), undefined, 2)}\n`);
  else shell.out(learntText(learnt, shell.width));
  if (flag(options, 'dryRun')) return 0;
  const { taken, controls } = await agree(shell, learnt);
  if (taken.length === 0 && !controls) {
    shell.say('Nothing was written: nothing is sure, and nobody said yes to the rest.\n');
    return 1;
  }
  const writing = writeDialect(frontend, role, learnt, taken, controls, standing);
  sayFindings(shell, writing.findings);
  if (writing.findings.some(({ grade }) => grade === 'error')) return 1;
  for (const id of writing.otherwise)
    shell.say(
      `${id} is spelled otherwise in ${shell.show(path)} already: that stays. Take it out there to learn it anew.\n`,
    );
  if (standing?.text === writing.text) {
    shell.say(`${shell.show(path)} says all of it already.\n`);
    return 0;
  }
  if (!writeResult(shell, path, writing.text)) return 3;
  shell.say(`wrote ${shell.show(path)}\n`);
  return 0;
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

/** All that is sure, and of the likely what a person says yes to. Nobody there: no. */
async function agree(
  shell: Shell,
  learnt: Learnt,
): Promise<{ readonly taken: readonly Proposal[]; readonly controls: boolean }> {
  const taken = learnt.proposals.filter(({ grade }) => grade === 'sure');
  let controls = learnt.controls?.grade === 'sure';
  if (learnt.controls !== undefined && !controls)
    controls = await yes(shell, `Controls: ${learnt.controls.evidence.join('; ')}. Right? [y/N] `);
  for (const proposal of learnt.proposals) {
    if (proposal.grade !== 'likely') continue;
    if (await yes(shell, `${proposalText(proposal, shell.width)}\nRight? [y/N] `)) taken.push(proposal);
  }
  return { taken, controls };
}

async function yes(shell: Shell, question: string): Promise<boolean> {
  return /^y(es)?$/i.test((await shell.ask(question))?.trim() ?? '');
}

function learntJson(learnt: Learnt): object {
  return {
    thumbwright: version,
    document: 'learn',
    files: learnt.files.map(({ id, path, format }) => ({ id, path, syntax: format.syntax })),
    controls: learnt.controls ?? null,
    proposals: learnt.proposals.map(({ setting, scope, grade, entry, keys, evidence, rivals }) => ({
      setting: setting.id,
      scope,
      grade,
      entry,
      keys,
      evidence,
      rivals,
    })),
    noise: learnt.noise,
    unexplained: learnt.unexplained,
    leftAlone: learnt.leftAlone,
    unlearnt: learnt.unlearnt.map(({ setting, scope, why }) => ({ setting: setting.id, scope, why })),
    questions: learnt.questions,
  };
}
