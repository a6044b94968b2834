import { isInside } from '../1-load/workspace.ts';
import { readSource } from '../1-load/find-file.ts';
import { makeLens } from '../dialect/make-lens.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import { isFault, verifyDialect } from '../learn/verify/verify-dialect.ts';
import type { Verified } from '../learn/verify/verify-dialect.ts';
import type { HostPath } from '../model/paths.ts';
import { prepareProfile } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { syntaxes } from '../syntax/registry.ts';
import { contextOf } from './lens-context.ts';

/** A dialect played through on one copy of its frontend's folder. */
export interface VerifiedFrontend {
  readonly instance: string;
  readonly dialect: string;
  readonly settings: readonly Verified[];
  /** Files of the dialect that the folder does not have. */
  readonly missing: readonly string[];
  /** How many trials did not come back as they should. */
  readonly faults: number;
}

/**
 * Plays the dialect of an instance through on a copy of that instance's folder: `folder` stands for its root. The folder is
 * only read. Undefined where the profile cannot be resolved or has no such instance.
 */
export function verifyFrontend(
  project: Project,
  profile: HostPath,
  instance: string,
  folder: HostPath,
): Outcome<VerifiedFrontend | undefined> {
  const { parts, findings } = prepareProfile(project, profile, false);
  const found = parts?.resolved.instances.find(({ name }) => name === instance);
  const dialect = parts?.dialects.get(instance);
  if (parts === undefined || found === undefined || dialect === undefined) return { value: undefined, findings };
  const made = makeLens(contextOf(parts.resolved, found, dialect), syntaxes);
  const { files } = project;
  const inside = { folder, real: files.real(folder) ?? folder, label: '' };
  const prefix = found.root.endsWith(':') ? found.root : `${found.root}/`;
  const written = found.dialect.data.files;
  const text: Parameters<typeof verifyDialect>[0]['text'] = (path) => {
    if (!path.startsWith(prefix)) return undefined;
    const host = files.join(folder, ...path.slice(prefix.length).split('/'));
    return isInside(files, inside, host) ? readSource(files, host, path).value : undefined;
  };
  const hold = parts.resolved.holds.get(instance);
  const controls = [...parts.resolved.device.controls.controls.keys()].filter((position) => position !== hold);
  const settings = verifyDialect({ lens: made.value, files: written, text, syntaxes, controls });
  const faults = settings.reduce((sum, { trials }) => sum + trials.filter(isFault).length, 0);
  const missing = Object.entries(written).flatMap(([id, { syntax }]) => {
    // A file that is wholly ours need not have been there.
    if (syntax === 'template') return [];
    const path = made.value.path(id, {});
    return path === undefined || text(path) !== undefined ? [] : [path];
  });
  return {
    value: { instance, dialect: found.dialect.data.dialect, settings, missing, faults },
    findings: [...findings, ...made.findings],
  };
}
