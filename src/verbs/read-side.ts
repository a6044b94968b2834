import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import { hostPath } from '../model/paths.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { profilePaths } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { prepareSide } from '../pipeline/compare-profiles.ts';
import type { NamedSide, ReadSide } from '../pipeline/compare-profiles.ts';
import type { ExitStatus, Shell } from './contract.ts';
import { openRevision } from './open-revision.ts';
import { sayFindings } from './say-findings.ts';
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

export type Readied =
  | { readonly kind: 'ready'; readonly side: ReadSide }
  /** Told already. */
  | { readonly kind: 'wrong'; readonly status: ExitStatus; readonly errors: readonly Finding[] };

/**
 * Compiles a side, which must have the frontend that is named. A profile with mistakes says nothing: they are told, as
 * `check` does, with what cannot be done: `so that CANNOT`. `first`: a side that is ready, which may be of the same profile.
 */
export function readySide(shell: Shell, named: NamedSide, cannot: string, first?: ReadSide): Readied {
  const isSame = first?.named.project === named.project && first.named.path === named.path;
  const { value, findings } = isSame ? { value: first.parts, findings: [] } : prepareSide(named);
  const errors = findings.filter(({ grade }) => grade === 'error');
  if (value === undefined || errors.length > 0) {
    sayFindings(shell, errors);
    shell.say(`thumbwright: ${visible(named.shown)} has mistakes, so that ${cannot}.\n`);
    return { kind: 'wrong', status: 1, errors };
  }
  const { instance } = named;
  const names = value.resolved.instances.map(({ name }) => name);
  if (instance === undefined || names.includes(instance)) return { kind: 'ready', side: { named, parts: value } };
  const near = nearestNames(instance, names);
  shell.say(
    `thumbwright: ${visible(named.shown)}: no frontend is called ${JSON.stringify(visible(instance))} there.\n${near.length > 0 ? `Did you mean ${near.join(' or ')}?` : `There are: ${names.join(', ')}.`}\n`,
  );
  return { kind: 'wrong', status: 2, errors: [] };
}
