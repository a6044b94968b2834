import { readSource } from '../1-load/find-file.ts';
import { isInside } from '../1-load/workspace.ts';
import { detectVersion } from '../dialect/detect.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Instance } from '../model/resolved.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import type { SourceText } from '../text/source-text.ts';

/** Fetched texts of one run, by the folder that the device has them in. */
interface Run {
  readonly folder: HostPath;
  readonly folders: readonly { readonly name: string; readonly path: string }[];
}

/**
 * What `fetch` brought of the device, as texts of a frontend's version: of each instance the first run in which its
 * dialect finds the version that is on the card now. They may hold what somebody set: the merge takes
 * only those for stock that hold nothing of ours.
 */
export async function fetchedTrees(
  project: Project,
  { resolved, dialects }: PreparedParts,
  versions: ReadonlyMap<string, string | undefined>,
): Promise<(path: CardPath) => SourceText | undefined> {
  const runs = runsOf(project, resolved.device.id);
  const roots = new Map<string, HostPath>();
  for (const instance of runs.length === 0 ? [] : resolved.instances) {
    const version = versions.get(instance.name) ?? instance.version;
    const detect = dialects.get(instance.name)?.document.data.detect;
    const name = /^\{\{\s*root\s*\}\}\/([^{}]+)$/.exec(detect?.file ?? '')?.[1];
    if (version === undefined || detect === undefined || name === undefined) continue;
    for (const run of runs) {
      const root = rootIn(project, run, onDevice(resolved.device.parts.get(partOf(instance))?.mountedAt, instance));
      const text = root === undefined ? undefined : textAt(project, root, name);
      if (root === undefined || text === undefined || (await detectVersion(detect.pattern, text.text)) !== version)
        continue;
      roots.set(instance.name, root);
      break;
    }
  }
  return (path) => {
    for (const instance of resolved.instances) {
      const root = roots.get(instance.name);
      const prefix = instance.root.endsWith(':') ? instance.root : `${instance.root}/`;
      const text =
        root === undefined || !path.startsWith(prefix) ? undefined : textAt(project, root, path.slice(prefix.length));
      if (text !== undefined) return text;
    }
    return undefined;
  };
}

function partOf({ root }: Instance): string {
  return splitCardPath(root).part;
}

/** The instance's folder as the device names it. */
function onDevice(mountedAt: string | undefined, { root }: Instance): string | undefined {
  const { path } = splitCardPath(root);
  return mountedAt === undefined
    ? undefined
    : [mountedAt.replace(/\/+$/, ''), path].filter((name) => name !== '').join('/');
}

/** Numbered runs that came to their end, the first one first. */
function runsOf({ files, root }: Project, device: string): readonly Run[] {
  const home = files.join(root, '.thumbwright', 'private', 'fetched', device);
  return (files.list(home) ?? [])
    .flatMap(({ name, kind }) => (kind === 'folder' && /^[1-9]\d{0,5}$/.test(name) ? [Number(name)] : []))
    .sort((a, b) => a - b)
    .flatMap((number) => {
      const folder = files.join(home, String(number));
      const about = readSource(files, files.join(folder, 'about.txt'), 'about.txt').value?.text;
      if (about === undefined || files.kind(files.join(folder, 'DONE.txt')) !== 'file') return [];
      const folders = [...about.matchAll(/^folder: ([^\t\n]+)\t(\/[^\n]*)$/gm)].map(([, name = '', path = '']) => ({
        name,
        path: path.replace(/\/+$/, ''),
      }));
      return [{ folder, folders }];
    });
}

function rootIn({ files }: Project, { folder, folders }: Run, wanted: string | undefined): HostPath | undefined {
  const found = folders.find(({ path }) => wanted !== undefined && (wanted === path || wanted.startsWith(`${path}/`)));
  if (found === undefined || wanted === undefined) return undefined;
  const home = files.join(folder, 'files');
  const below = wanted
    .slice(found.path.length)
    .split('/')
    .filter((name) => name !== '');
  const root = files.join(home, found.name, ...below);
  return isInside(files, { folder: home, real: files.real(home) ?? home, label: '' }, root) ? root : undefined;
}

function textAt({ files }: Project, root: HostPath, path: string): SourceText | undefined {
  const host = files.join(root, ...path.split('/'));
  if (files.kind(host) !== 'file') return undefined;
  return isInside(files, { folder: root, real: files.real(root) ?? root, label: '' }, host)
    ? readSource(files, host, path).value
    : undefined;
}
