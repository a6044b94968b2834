import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { HostPath } from '../model/paths.ts';
import { openProject, profilePaths } from '../pipeline.ts';
import type { CardFolders, Project } from '../pipeline.ts';
import { findingText, sortFindings } from '../report/terminal/findings.ts';
import { paint } from '../report/paint.ts';
import { texts } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';

export interface Targets {
  readonly project: Project;
  /** Name as shown, and where it lies. */
  readonly profiles: readonly { readonly name: string; readonly path: HostPath }[];
}

export type Chosen =
  { readonly kind: 'chosen'; readonly targets: Targets } | { readonly kind: 'stop'; readonly status: ExitStatus };

/** The profiles that a verb is asked for: all of the workspace when none is named. Says what is wrong otherwise. */
export function chooseTargets(shell: Shell, names: readonly string[]): Chosen {
  const opened = openProject(shell.files, shell.here);
  const brush = paint(shell.colour.say);
  for (const finding of sortFindings(opened.findings)) shell.say(`${findingText(finding, brush, shell.width)}\n`);
  if (opened.value === undefined) {
    if (opened.findings.length === 0) {
      shell.say(
        `thumbwright: no workspace here or in a folder above (a folder with .thumbwright/ or package.json).\nTo begin one:\n  thumbwright new NAME\n`,
      );
    }
    return { kind: 'stop', status: opened.findings.length === 0 ? 2 : 1 };
  }
  const project = opened.value;
  const all = profilePaths(project);
  if (names.length === 0) {
    if (all.length > 0) return { kind: 'chosen', targets: { project, profiles: all } };
    shell.say(
      `thumbwright: no profile in ${shell.show(project.profiles)} (a file whose first key is profile:).\nTo begin one:\n  thumbwright new NAME\n`,
    );
    return { kind: 'stop', status: 2 };
  }
  const profiles: { name: string; path: HostPath }[] = [];
  for (const name of names) {
    const known = all.find((profile) => profile.name === name);
    if (known !== undefined) profiles.push(known);
    else if (/[/\\]|\.ya?ml$/.test(name)) profiles.push({ name, path: shell.path(name) });
    else {
      const near = nearestNames(
        name,
        all.map((profile) => profile.name),
      );
      const hint =
        near.length > 0
          ? `Did you mean ${near.map((n) => visible(n)).join(' or ')}?`
          : `There are: ${all.map((profile) => visible(profile.name)).join(', ')}.`;
      shell.say(`thumbwright: no profile is called ${JSON.stringify(visible(name))} here.\n${hint}\n`);
      return { kind: 'stop', status: 2 };
    }
  }
  return { kind: 'chosen', targets: { project, profiles } };
}

/** `--card DIR` for all parts, `--card PART=DIR` for one; undefined without the option. A folder that is not there is said. */
export function cardFolders(shell: Shell, options: Options): CardFolders | undefined | 'stop' {
  const given = texts(options, 'card');
  if (given.length === 0) return undefined;
  let whole: HostPath | undefined;
  const parts = new Map<string, HostPath>();
  for (const text of given) {
    const match = /^([a-z0-9]+(?:-[a-z0-9]+)*)=(.+)$/.exec(text);
    const path = shell.path(match?.[2] ?? text);
    const real = shell.files.real(path);
    if (real === undefined || shell.files.kind(real) !== 'folder') {
      shell.say(
        `thumbwright: ${shell.show(path)} is not a folder.\nGive the folder where the card, or a copy of its folders, is mounted:\n  --card games=/media/me/GAMES --card settings=/media/me/SETTINGS\n`,
      );
      return 'stop';
    }
    if (match?.[1] === undefined) whole = path;
    else parts.set(match[1], path);
  }
  return { whole, parts };
}
