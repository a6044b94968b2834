import { findRuns } from '../device/find-runs.ts';
import { leftOut, readFetched } from '../device/read-fetched.ts';
import type { Fetched } from '../device/read-fetched.ts';
import { storeFetched } from '../device/store-fetched.ts';
import { archiveBound, unpackArchive } from '../device/unpack-archive.ts';
import type { Unpacked } from '../device/unpack-archive.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Files } from '../files/contract.ts';
import { hostPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import { confirmByLog, confirmByTree } from '../pipeline/confirm-pending.ts';
import type { Confirmed } from '../pipeline/confirm-pending.ts';
import { openProject } from '../pipeline.ts';
import { noteBehind } from '../pipeline/fetched-card.ts';
import { fetchedCapture } from '../pipeline/fetched-capture.ts';
import type { FetchedCapture } from '../pipeline/fetched-capture.ts';
import { findingJson } from '../report/json-findings.ts';
import { paint } from '../report/paint.ts';
import { findingText, sortFindings } from '../report/terminal/findings.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import type { ExitStatus, Shell } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { version } from './version.ts';

interface Run {
  readonly device: string;
  readonly folder: string;
  readonly news: boolean;
  readonly files: number;
  readonly inputs: readonly string[];
  readonly placed: readonly string[];
  readonly again: readonly string[];
  readonly missing: readonly string[];
}

/** Where the runs are read from: the disk, or an archive that was unpacked into memory. */
interface Source {
  readonly files: Files;
  readonly folder: HostPath;
  readonly show: (path: HostPath) => string;
  readonly left: readonly string[];
}

/** Unpacks every run that a folder or an archive holds into the workspace's private folder, and tells what came and what is missing. */
export async function bringFetched(
  shell: Shell,
  written: string,
  as: string | undefined,
  json: boolean,
): Promise<ExitStatus> {
  const { files } = shell;
  if (as !== undefined && !isName(as)) {
    shell.say("thumbwright: a device's name has small letters, digits and hyphens.\nAs in:\n  --as fern\n");
    return 2;
  }
  const from = shell.path(written);
  if (files.kind(from) === undefined) {
    shell.say(
      `thumbwright: there is no ${shell.show(from)}.\nName the folder thumbwright-fetch on the card, a copy of it, or a tar archive of it. To make the script that fills it:\n  thumbwright fetch NAME --script bring.sh\n`,
    );
    return 2;
  }
  const project = openProject(files, shell.here).value;
  if (project === undefined) {
    shell.say(
      'thumbwright: no workspace here or in a folder above (a folder with .thumbwright/ or package.json).\nTo begin one:\n  thumbwright new NAME\n',
    );
    return 2;
  }
  const { root } = project;
  const home = files.join(root, '.thumbwright', 'private');
  const ignore = files.join(home, '.gitignore');
  if (files.kind(ignore) === undefined) files.write(ignore, encodeText('*\n'));

  const told = files.kind(from) === 'file' ? files.read(from, 1 << 20) : undefined;
  const text = told?.kind === 'bytes' ? decodeBytes(told.bytes) : '';
  const log = confirmByLog(project, text);
  if (log !== undefined) {
    const changed = log.value.some((one) => one.kind === 'undone' || one.settled.installed.length > 0);
    const [, device = ''] = /^device: (\S+)/m.exec(text) ?? [];
    const noted = changed ? noteBehind(project, device) : undefined;
    if (noted?.kind === 'failed') {
      shell.say(
        `thumbwright: what was fetched of ${device} cannot be marked as older than the bundle: ${noted.why}.\nMake room there, then run the same command again; bring the files anew before the next bundle.\n`,
      );
      return 3;
    }
    return sayConfirmed(shell, log.value, log.findings, json);
  }
  const source = await open(shell, from);
  if (source === undefined) return 1;
  const { runs: found, cutOff } = findRuns(source.files, source.folder);
  const findings: Finding[] = source.left.length === 0 ? [] : [leftOut(source.left)];
  const runs: Run[] = [];
  const confirmed: Confirmed[] = [];
  for (const folder of found.length === 0 ? [source.folder] : found) {
    const read = readFetched(source.files, folder);
    findings.push(...read.findings);
    if (read.value === undefined) continue;
    const fetched = read.value;
    const told = /^device: (.*)$/m.exec(textOf(fetched, 'about.txt'))?.[1] ?? '';
    // What comes from a card names a folder only if it is a plain name.
    const device = as ?? (isName(told) ? told : 'device');
    const capture = fetchedCapture(fetched, `${source.show(folder)}/capture.txt`);
    const stored = storeFetched(files, files.join(home, 'fetched', device), fetched, capture?.text);
    if (stored.kind === 'failed') {
      shell.say(
        `thumbwright: ${shell.show(stored.folder)} cannot be written: ${stored.why}.\nMake room there, then run the same command again; what was brought was only read.\n`,
      );
      return 3;
    }
    findings.push(...(capture?.findings ?? []));
    const settled = confirmByTree(project, device, files.join(stored.folder, 'files'));
    confirmed.push(...settled.value);
    findings.push(...settled.findings);
    runs.push(summary(shell, device, stored.folder, stored.kind === 'stored', fetched, capture));
  }
  const sorted = sortFindings(findings);
  if (json) {
    const document = { thumbwright: version, document: 'fetch', wrote: [], runs, findings: sorted.map(findingJson) };
    shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
  } else {
    const brush = paint(shell.colour.say);
    for (const finding of sorted) shell.say(`${findingText(finding, brush, shell.width)}\n`);
    for (const run of runs) shell.out(runText(run));
    if (confirmed.length > 0) sayConfirmed(shell, confirmed, [], json);
    for (const name of cutOff) shell.out(`${name} was cut off on the device, and is left there.\n`);
  }
  return findings.some(({ grade }) => grade === 'error') ? 1 : 0;
}

/** Says what became of bundles that were under way. */
function sayConfirmed(
  shell: Shell,
  confirmed: readonly Confirmed[],
  findings: readonly Finding[],
  json: boolean,
): ExitStatus {
  if (json) {
    const document = {
      thumbwright: version,
      document: 'fetch',
      wrote: [],
      runs: [],
      findings: findings.map(findingJson),
    };
    shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
  } else sayFindings(shell, findings);
  for (const one of confirmed) {
    if (one.kept.kind === 'failed') {
      shell.say(
        `thumbwright: the record of the card ${one.card} cannot be written: ${one.kept.why}.\nMake room, then run the same command again.\n`,
      );
      return 3;
    }
    if (!json) shell.out(`The bundle for the card ${one.card}${became(one)}.\n`);
  }
  if (confirmed.length === 0 && findings.length === 0 && !json)
    shell.out('No bundle is pending that this log tells of.\n');
  return findings.some(({ grade }) => grade === 'error') ? 1 : 0;
}

function became(one: Confirmed): string {
  const list = (paths: readonly string[]): string => paths.map((path) => `  ${visible(path)}`).join('\n');
  if (one.kind === 'undone')
    return ` was taken back on the device: the record is again what it was before${one.stays.length === 0 ? '' : `, but for files that were changed since and stay:\n${list(one.stays)}`}`;
  const { settled } = one;
  const left = [...settled.not, ...settled.unknown];
  return `: ${settled.installed.length} ${settled.installed.length === 1 ? 'file is' : 'files are'} in place${left.length === 0 ? '; nothing is pending any more' : `; pending still:\n${list(left)}`}`;
}

async function open(shell: Shell, from: HostPath): Promise<Source | undefined> {
  const { files } = shell;
  if (files.kind(from) !== 'file') return { files, folder: from, show: (path) => shell.show(path), left: [] };
  const read = files.read(from, archiveBound);
  const unpacked: Unpacked =
    read.kind === 'bytes'
      ? await unpackArchive(read.bytes)
      : {
          kind: 'unreadable',
          why: read.kind === 'too-large' ? `it is larger than ${archiveBound >> 20} MiB` : 'it cannot be read',
          wayOut: 'Name the folder thumbwright-fetch itself.',
        };
  if (unpacked.kind === 'files')
    return {
      files: unpacked.files,
      folder: hostPath('/'),
      show: (path) => shell.show(from) + path,
      left: unpacked.left,
    };
  shell.say(`thumbwright: ${shell.show(from)} cannot be unpacked: ${unpacked.why}.\n${unpacked.wayOut}\n`);
  return undefined;
}

function isName(text: string): boolean {
  return text.length <= 60 && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text);
}

function textOf(fetched: Fetched, path: string): string {
  return decodeBytes(fetched.files.get(path) ?? new Uint8Array());
}

function summary(
  shell: Shell,
  device: string,
  folder: HostPath,
  news: boolean,
  fetched: Fetched,
  read: FetchedCapture | undefined,
): Run {
  const capture = read?.capture;
  const paths = [...fetched.files.keys()];
  const missing = textOf(fetched, 'trouble.txt')
    .split('\n')
    .filter((line) => line !== '')
    .slice(0, 50);
  if (fetched.controls === undefined) missing.push('the list of inputs: the controls cannot be told');
  else if (fetched.controls.events.size === 0)
    missing.push('the press test: nothing was pressed, or no input could be read');
  return {
    device,
    folder: shell.show(folder),
    news,
    files: paths.filter((path) => path.startsWith('files/')).length,
    inputs: capture?.inputs.map(({ name, identity }) => `${name} (${visible(identity?.name ?? '')})`) ?? [],
    placed: [...(capture?.pressed.keys() ?? [])],
    again: capture?.unplaced ?? [],
    missing: missing.map((line) => visible(line)),
  };
}

function runText({ device, folder, news, files, inputs, placed, again, missing }: Run): string {
  const lines = [
    news ? `${folder}` : `${folder} (was here already)`,
    `  ${files} ${files === 1 ? 'file' : 'files'} of its frontends`,
    ...(inputs.length === 0 ? [] : [`  inputs: ${inputs.join(', ')}`]),
    ...(placed.length === 0 ? [] : [`  ${placed.length} controls placed by the press test`]),
    ...(again.length === 0 ? [] : [`  to be pressed again: ${again.join(', ')}`]),
    ...missing.map((line) => `  missing: ${line}`),
    'It may hold passwords: it stays in .thumbwright/private, which git ignores. A first profile from it:',
    `  thumbwright new ${device} --from ${folder}`,
  ];
  return `${lines.join('\n')}\n`;
}
