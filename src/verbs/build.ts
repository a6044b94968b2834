import type { BuiltFile } from '../model/compiled.ts';
import { splitCardPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import { projectLock, runProfile, withoutTwins } from '../pipeline.ts';
import type { ProfileRun, Project } from '../pipeline.ts';
import { fidelityTable, lossText } from '../report/fidelity.ts';
import { fidelityJson } from '../report/json-fidelity.ts';
import { findingJson } from '../report/json-findings.ts';
import { paint } from '../report/paint.ts';
import { findingText, sortFindings, tally } from '../report/terminal/findings.ts';
import { count } from '../report/wrap.ts';
import { encodeText } from '../text/encoding.ts';
import { statusOf } from './check.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import type { Targets } from './targets.ts';
import { version } from './version.ts';
import { writeOut } from './write-out.ts';

export const run: VerbRun = async (shell, args, options) => {
  const card = cardFolders(shell, options);
  if (card === 'stop') return 2;
  const once = (): { status: ExitStatus; targets: Targets | undefined } => {
    const chosen = chooseTargets(shell, args);
    if (chosen.kind === 'stop') return { status: chosen.status, targets: undefined };
    return { status: buildOnce(shell, chosen.targets, options, card), targets: chosen.targets };
  };
  const first = once();
  if (!flag(options, 'watch') || first.targets === undefined) return first.status;
  const { project } = first.targets;
  const out = outFolder(shell, project, options);
  shell.say('Watching for changes; Ctrl-C ends it.\n');
  await shell.watch([project.profiles], (name) => {
    // Our own output may lie below the folder that is watched.
    if (!shell.files.join(project.profiles, name).startsWith(out)) once();
  });
  return 0;
};

function outFolder(shell: Shell, project: Project, options: Options): HostPath {
  const given = text(options, 'out');
  return given === undefined ? shell.files.join(project.root, 'out') : shell.path(given);
}

function buildOnce(
  shell: Shell,
  targets: Targets,
  options: Options,
  card: Parameters<typeof runProfile>[2]['card'],
): ExitStatus {
  const { project, profiles } = targets;
  const newest = flag(options, 'newest');
  const runs: ProfileRun[] = profiles.map(({ path }) => runProfile(project, path, { card, newest }));
  const findings = sortFindings(withoutTwins(runs.flatMap((r) => r.findings)));
  const asJson = flag(options, 'json');
  const brush = paint(shell.colour.say);
  const shown = findings.filter((finding) => finding.grade !== 'note');
  if (!asJson) for (const finding of shown) shell.say(`${findingText(finding, brush, shell.width)}\n`);
  const status = statusOf(findings, flag(options, 'strict'));
  const out = outFolder(shell, project, options);
  const files = runs.flatMap((r) =>
    (r.built?.files ?? []).map((file) => ({ run: r, file, path: outPath(shell, out, r.name, file) })),
  );

  if (status !== 0) {
    if (asJson)
      shell.out(
        `${JSON.stringify({ thumbwright: version, document: 'build', wrote: [], findings: findings.map(findingJson) }, undefined, 2)}\n`,
      );
    else shell.say(`Nothing was written: ${tally(findings)}.\n`);
    return status;
  }
  const lock = projectLock(project, runs);
  const written = writeOut(shell.files, [
    ...files.map(({ path, file }) => ({ path, bytes: encodeText(file.text), mode: file.mode })),
    ...(lock === undefined ? [] : [{ path: lock.path, bytes: encodeText(lock.text), mode: undefined }]),
  ]);
  if (written.kind === 'failed') {
    shell.say(
      `thumbwright: ${shell.show(written.path)} cannot be written: ${written.why}.\n${written.left.length === 0 ? 'What was there before is still there.' : `These could not be put back, and are of the new build:\n${written.left.map((path) => `  ${shell.show(path)}\n`).join('')}`} Make the folder writable, or choose another with --out DIR, then run the same command again.\n`,
    );
    return 3;
  }
  if (asJson) {
    const document = {
      thumbwright: version,
      document: 'build',
      wrote: written.changed.map((path) => shell.show(path)),
      profiles: runs.map((r) => ({
        name: r.name,
        files: (r.built?.files ?? []).map((file) => ({
          path: file.path,
          instances: file.instances,
          keys: file.keys.length,
          changed: file.keys.filter((key) => key.changed).length,
        })),
        fidelity: fidelityJson(r.built?.compiled.fidelity ?? []),
      })),
      findings: findings.map(findingJson),
    };
    shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
    return 0;
  }
  const changedPaths = new Set<string>(written.changed);
  for (const r of runs) {
    const own = files.filter((f) => f.run === r);
    const keys = own.reduce((sum, { file }) => sum + file.keys.length, 0);
    const fresh = own.filter(({ path }) => changedPaths.has(path)).length;
    const news =
      fresh === 0
        ? 'all as they were'
        : fresh === own.length
          ? 'all written'
          : `${fresh} written, the others as they were`;
    shell.out(`${r.name}: ${count(own.length, 'file')}, ${count(keys, 'key')} set; ${news}\n`);
    for (const { file, path } of own) {
      const changed = file.keys.filter((key) => key.changed).length;
      const what =
        file.whole === undefined
          ? `${count(file.keys.length, 'key')}, ${changed} unlike the ${file.base === undefined ? 'empty file' : 'base'}`
          : 'wholly ours';
      shell.out(`  ${shell.show(path)}  (${what})\n`);
    }
    const fidelity = r.built?.compiled.fidelity ?? [];
    if (flag(options, 'table') && r.built !== undefined) shell.out(fidelityTable(r.built.compiled.resolved, fidelity));
    else shell.out(lossText(fidelity));
  }
  for (const r of runs) {
    const own: ReadonlySet<string> = new Set(files.filter((f) => f.run === r).map(({ path }) => path));
    const left = leftOver(shell, shell.files.join(out, r.name), own);
    if (left.length > 0) {
      shell.say(
        `Left over from an earlier build, and no part of this one (remove what nobody needs):\n${left.map((path) => `  ${shell.show(path)}\n`).join('')}`,
      );
    }
  }
  const notes = findings.length - shown.length;
  if (notes > 0) shell.out(`${count(notes, 'note')}; to read them:\n  thumbwright check\n`);
  return 0;
}

/** `out/DEVICE/PART/path`. */
function outPath(shell: Shell, out: HostPath, device: string, file: BuiltFile): HostPath {
  const { part, path } = splitCardPath(file.path);
  return shell.files.join(out, device, part, path);
}

const mostShown = 20;

/** Files below a device's output folder that this build did not make; at most some. Links are not followed. */
function leftOver(shell: Shell, folder: HostPath, own: ReadonlySet<string>): readonly HostPath[] {
  const found: HostPath[] = [];
  const visit = (at: HostPath, depth: number): void => {
    for (const entry of shell.files.list(at) ?? []) {
      if (found.length >= mostShown || depth > 30) return;
      const path = shell.files.join(at, entry.name);
      if (entry.kind === 'folder') visit(path, depth + 1);
      else if (!own.has(path)) found.push(path);
    }
  };
  visit(folder, 0);
  return found;
}
