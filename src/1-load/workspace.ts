import type { Files } from '../files/contract.ts';
import { hostPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';

/** A folder that may be read: the workspace, or an installed package. Nothing outside it is. */
export interface Base {
  readonly folder: HostPath;
  /** With every link resolved: what lies inside is told by this. */
  readonly real: HostPath;
  /** Put before the names of its files in messages: empty for the workspace, `package:NAME/` for a package. */
  readonly label: string;
}

/** The nearest folder upwards with `.thumbwright/` or a package.json. */
export interface Workspace {
  readonly base: Base;
  /** `profiles/` where there is one, else the workspace itself. */
  readonly profiles: HostPath;
}

function parent(path: string): string {
  const cut = path.replace(/[/\\]+$/, '').search(/[/\\][^/\\]*$/);
  return cut <= 0 ? path.slice(0, 1) : path.slice(0, cut);
}

export function findWorkspace(files: Files, start: HostPath): Workspace | undefined {
  let at: string = start;
  for (;;) {
    const folder = hostPath(at);
    if (
      files.kind(files.join(folder, '.thumbwright')) === 'folder' ||
      files.kind(files.join(folder, 'package.json')) === 'file'
    ) {
      const profiles = files.join(folder, 'profiles');
      return {
        base: { folder, real: files.real(folder) ?? folder, label: '' },
        profiles: files.kind(profiles) === 'folder' ? profiles : folder,
      };
    }
    const up = parent(at);
    if (up === at) return undefined;
    at = up;
  }
}

/** A path inside a base, as shown in messages: forward slashes, from the base's folder. */
export function shownName(base: Base, path: HostPath): string {
  const rest = path.startsWith(base.folder)
    ? path.slice(base.folder.length).replace(/^[/\\]+/, '')
    : path.replace(/^.*[/\\]/, '');
  return base.label + rest.replaceAll('\\', '/');
}

/** Whether a path, links followed, lies inside a base. */
export function isInside(files: Files, base: Base, path: HostPath): boolean {
  const real = files.real(path);
  return (
    real !== undefined && (real === base.real || real.startsWith(`${base.real}/`) || real.startsWith(`${base.real}\\`))
  );
}
