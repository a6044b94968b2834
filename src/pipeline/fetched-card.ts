import type { CardFolders } from '../1-load/base-files.ts';
import type { WriteResult } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { Project } from '../pipeline.ts';
import { encodeText } from '../text/encoding.ts';

const behindName = 'BEHIND.txt';

/** The newest whole run of the fetch script that was brought of a device. */
function newestRun({ files, root }: Project, device: string): HostPath | undefined {
  const home = files.join(root, '.thumbwright', 'private', 'fetched', device);
  const numbers = (files.list(home) ?? [])
    .filter(({ name, kind }) => kind === 'folder' && /^[1-9]\d{0,5}$/.test(name))
    .map(({ name }) => Number(name))
    .sort((a, b) => b - a);
  const newest = numbers.find((number) => files.kind(files.join(home, String(number), 'DONE.txt')) === 'file');
  return newest === undefined ? undefined : files.join(home, String(newest));
}

/** The folder of what the newest whole run of the fetch script brought of a device: a folder for each part. */
export function newestFetched(project: Project, device: string): HostPath | undefined {
  const run = newestRun(project, device);
  return run === undefined ? undefined : project.files.join(run, 'files');
}

/** Notes beside what was fetched last that the device has changed its files since, by a bundle whose log was brought. */
export function noteBehind(project: Project, device: string): WriteResult {
  const { files } = project;
  const run = newestRun(project, device);
  return run === undefined
    ? { kind: 'done' }
    : files.write(
        files.join(run, behindName),
        encodeText('A bundle changed files on the device after these were brought.\n'),
      );
}

/** Whether what was fetched last is older than a bundle that is known to be installed, or taken back. */
export function isBehind(project: Project, device: string): boolean {
  const run = newestRun(project, device);
  return run !== undefined && project.files.kind(project.files.join(run, behindName)) !== undefined;
}

/** The parts that were given, and what was fetched in place of the others. */
export function withFetched(given: CardFolders | undefined, fetched: HostPath | undefined): CardFolders | undefined {
  if (fetched === undefined || given?.whole !== undefined) return given;
  return { whole: fetched, parts: given?.parts ?? new Map() };
}

/** Whether a folder lies among what is private to the workspace: a tree that was fetched is no card. */
export function isFetched({ files, root }: Project, folder: HostPath): boolean {
  const home = files.real(files.join(root, '.thumbwright', 'private'));
  const real = files.real(folder);
  if (home === undefined || real === undefined) return false;
  return real.replaceAll('\\', '/').startsWith(`${home.replaceAll('\\', '/')}/`);
}
