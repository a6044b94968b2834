import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import { hostPath } from '../model/paths.ts';
import { profilePaths } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import type { NamedSide } from '../pipeline/compare-profiles.ts';
import type { ExitStatus, Shell } from './contract.ts';
import { openRevision } from './open-revision.ts';
import { chooseTargets } from './targets.ts';

interface Reference {
  readonly profile: string;
  readonly revision: string | undefined;
  readonly instance: string | undefined;
}

/** `PROFILE[@REVISION][#INSTANCE]`. */
function parseReference(written: string): Reference {
  const hash = written.indexOf('#');
  const before = hash < 0 ? written : written.slice(0, hash);
  const at = before.indexOf('@');
  return {
    profile: at < 0 ? before : before.slice(0, at),
    revision: at < 0 ? undefined : before.slice(at + 1),
    instance: hash < 0 ? undefined : written.slice(hash + 1),
  };
}

/** Reads what a person compares: profiles, as they are or were, and instances of them. */
export class SideReader {
  readonly #shell: Shell;
  readonly #now: Project;
  readonly #revisions = new Map<string, Project>();

  constructor(shell: Shell, now: Project) {
    this.#shell = shell;
    this.#now = now;
  }

  /** Says what is wrong otherwise. */
  read(written: string): NamedSide | ExitStatus {
    const { profile, revision, instance } = parseReference(written);
    if (revision === undefined) {
      const chosen = chooseTargets(this.#shell, [profile]);
      const target = chosen.kind === 'stop' ? undefined : chosen.targets.profiles[0];
      if (chosen.kind === 'stop') return chosen.status;
      return target === undefined ? 2 : { shown: written, project: this.#now, path: target.path, instance };
    }
    const project = this.#revisions.get(revision) ?? openRevision(this.#shell, this.#now, revision);
    if (typeof project === 'number') return project;
    this.#revisions.set(revision, project);
    const all = profilePaths(project);
    const known = all.find(({ name }) => name === profile);
    if (known !== undefined) return { shown: written, project, path: known.path, instance };
    if (/[/\\]|\.ya?ml$/.test(profile))
      return { shown: written, project, path: hostPath(this.#shell.path(profile)), instance };
    const names = all.map(({ name }) => name);
    const near = nearestNames(profile, names);
    this.#shell.say(
      `thumbwright: no profile was called ${JSON.stringify(visible(profile))} at ${JSON.stringify(visible(revision))}.\n${near.length > 0 ? `Did you mean ${near.map((name) => visible(name)).join(' or ')}?` : `There were: ${names.map((name) => visible(name)).join(', ')}.`}\n`,
    );
    return 2;
  }
}
