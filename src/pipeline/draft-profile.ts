import type { Fetched } from '../device/read-fetched.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Project } from '../pipeline.ts';
import { decodeBytes } from '../text/encoding.ts';
import { positions } from '../vocabulary/positions.ts';
import { draftParts, onPart } from './draft-parts.ts';
import type { DraftPart } from './draft-parts.ts';
import type { FetchedCapture } from './fetched-capture.ts';
import { findFrontends } from './find-frontends.ts';
import type { FoundFrontend } from './find-frontends.ts';

export interface DraftProfile {
  readonly text: string;
  /** What nobody could tell, a sentence each. */
  readonly open: readonly string[];
}

/** A profile of what a device brought, with everything but the labels; what is not known is left out and told. */
export async function draftProfile(
  project: Project,
  name: string,
  house: string,
  fetched: Fetched,
  capture: FetchedCapture | undefined,
): Promise<DraftProfile> {
  const textOf = (path: string): string => decodeBytes(fetched.files.get(path) ?? new Uint8Array());
  const about = textOf('about.txt');
  const games = /^games: (\/.*)$/m.exec(about)?.[1] ?? '';
  const folders = [...about.matchAll(/^folder: ([^\t\n]+)\t(\/[^\n]*)$/gm)].map((match) => ({
    name: match[1] ?? '',
    path: match[2] ?? '',
  }));
  const onDevice = new Map<string, Uint8Array>();
  for (const [path, bytes] of fetched.files) {
    const folder = folders.find((one) => path.startsWith(`files/${one.name}/`));
    if (folder !== undefined) onDevice.set(folder.path + path.slice(`files/${folder.name}`.length), bytes);
  }
  const frontends = await findFrontends(project, onDevice);
  const parts = draftParts(
    games,
    folders.map(({ path }) => path),
    textOf('mounts.txt'),
    textOf('sizes.txt'),
  );
  const open: string[] = [];
  for (const { path } of folders)
    if (![...onDevice.keys()].some((file) => file.startsWith(`${path}/`)))
      open.push(`Nothing came from ${visible(path)}.`);
    else if (!frontends.some(({ root }) => root === path || root.startsWith(`${path}/`)))
      open.push(`No dialect at hand knows what lies in ${visible(path)}.`);
  const controls = controlLines(name, capture, open);
  const system = frontends.find(({ role }) => role === 'system');
  const text = `# yaml-language-server: $schema=../schema/profile.schema.json
# From what the device itself told. Labels are for you to fill in: what is printed on each control.
profile: ${name}
format: 1
name: ${name.charAt(0).toUpperCase()}${name.slice(1)}
extends: ${house}
# catalog: NAME@1              # the list of game systems and cores

device:
${system === undefined ? '' : `  os: { ${entry(system, parts)} }\n`}  body: upright                # not told by the device: upright, wide or folding
  wifi: none                   # not told by the device: none, adapter or built-in
${parts.length === 0 ? '' : `  parts:                       # survives-reimage: true where the system's image leaves a part alone\n${parts.map(partLine).join('')}`}${controls}
${frontendLines(
  frontends.filter((one) => one !== system),
  parts,
)}${open.length === 0 ? '' : `\n# Not placed:\n${open.map((line) => `# - ${line}\n`).join('')}`}`;
  return { text, open };
}

/** A text of the device's as a YAML scalar: JSON's form is one (YAML 1.2.2, section 1.3). */
function scalar(text: string): string {
  return /^[a-z0-9]+$/.test(text) && /[a-z]/.test(text) && !/^(true|false|null|\d+e\d+)$/.test(text)
    ? text
    : JSON.stringify(text);
}

function partLine({ name, mountedAt, filesystem, kibibytes }: DraftPart): string {
  const members = [
    ...(filesystem === undefined ? [] : [`filesystem: ${scalar(filesystem)}`]),
    ...(kibibytes === undefined ? [] : [`capacity: ${kibibytes} KiB`]),
    `mounted-at: ${scalar(mountedAt)}`,
  ];
  return `    ${name}: { ${members.join(', ')} }\n`;
}

function entry({ dialect, dialectVersion, version, root }: FoundFrontend, parts: readonly DraftPart[]): string {
  const [major = '1'] = dialectVersion.split('.');
  return `dialect: ${dialect}@^${major}, version: ${scalar(version)}, root: ${scalar(onPart(parts, root) ?? '')}`;
}

function frontendLines(frontends: readonly FoundFrontend[], parts: readonly DraftPart[]): string {
  if (frontends.length === 0)
    return '# frontends:\n#   first: { dialect: NAME@^1, version: unknown, root: "settings:folder" }\n';
  const taken = new Set<string>(['os']);
  const lines = frontends.map((one) => {
    const folder = one.root.replace(/^.*\//, '');
    const wanted =
      frontends.filter(({ dialect }) => dialect === one.dialect).length > 1 ? `${one.dialect}-${folder}` : one.dialect;
    const base = /^[a-z0-9]+(-[a-z0-9]+)*$/.test(wanted) ? wanted : one.dialect;
    let id = base;
    for (let count = 2; taken.has(id); count++) id = `${base}-${count}`;
    taken.add(id);
    return `  ${id}: { ${entry(one, parts)} }\n`;
  });
  return `frontends:\n${lines.join('')}`;
}

function controlLines(name: string, read: FetchedCapture | undefined, open: string[]): string {
  const capture = read?.capture;
  if (capture === undefined) {
    open.push('The controls: nothing tells which inputs the device has. Run fetch again.');
    return '  # controls:\n  #   south: { label: B }\n';
  }
  if (capture.unplaced.length > 0)
    open.push(
      `The press test does not tell ${capture.unplaced.join(', ')}: their usual codes are taken. Press them again with fetch.`,
    );
  else if (capture.pressed.size === 0)
    open.push('There was no press test: the usual codes are taken. Run it with fetch to be sure.');
  const lines = positions.flatMap((position) => {
    const sources = capture.pressed.get(position);
    if (sources === undefined) return [];
    const codes = sources.map((source) => `${source.input}/${source.code}${source.kind === 'axis' ? source.side : ''}`);
    return [`    ${`${position}: {}`.padEnd(26)} # label: ? It sends ${codes.join(' and ')}.\n`];
  });
  return `  controls:\n    capture: captures/${name}.txt\n${lines.join('')}`;
}
