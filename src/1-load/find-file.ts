import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { decodeBytes } from '../text/encoding.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import { longest } from './refuse-text.ts';
import { isInside, shownName } from './workspace.ts';
import type { Base } from './workspace.ts';

/** Why a path as written cannot be followed, whatever is on the disk; undefined when it can. */
function whyRefused(written: string): string | undefined {
  if (/^[a-z][a-z0-9+.-]*:\/\//i.test(written)) return 'it is an address, and the tool opens no connection';
  if (/^[a-z]:/i.test(written)) return 'it names a drive';
  if (/^(\/|\\)/.test(written)) return 'it is absolute';
  if (/[\0-\x1f\x7f]/.test(written)) return 'it holds control characters';
  return undefined;
}

/**
 * A file that another file names: relative to that one's folder, inside its workspace or package, links followed.
 * Errors: `leads-outside`, `file-missing` (with the nearest names there), and those of `readSource`.
 */
export function findFile(
  files: Files,
  base: Base,
  folder: HostPath,
  written: string,
  place: Place,
): Outcome<{ readonly path: HostPath; readonly source: SourceText } | undefined> {
  const refuse = (why: string): Outcome<undefined> => ({
    value: undefined,
    findings: [
      makeFinding('leads-outside', {
        place,
        detail: `${JSON.stringify(visible(written))} is not followed: ${why}.`,
        wayOut: 'Name a file inside the workspace (or package), relative to this file.',
      }),
    ],
  });
  const why = whyRefused(written);
  if (why !== undefined) return refuse(why);
  const members = written.split(/[/\\]/);
  const path = files.join(folder, ...members);
  // Told from the text first, so that what is outside is not even looked at.
  const inside = path === base.folder || path.startsWith(`${base.folder}/`) || path.startsWith(`${base.folder}\\`);
  if (!inside) return refuse('it leads out of the workspace or package');
  if (files.kind(path) !== undefined && files.real(path) !== undefined && !isInside(files, base, path))
    return refuse('a link on the way leads out of the workspace or package');
  if (files.kind(path) === undefined) {
    const beside = (files.list(files.join(path, '..')) ?? [])
      .filter((entry) => entry.kind === 'file')
      .map((entry) => entry.name);
    const near = nearestNames(members.at(-1) ?? '', beside);
    return {
      value: undefined,
      findings: [
        makeFinding('file-missing', {
          place,
          detail: `There is no ${visible(shownName(base, path))}.`,
          wayOut: near.length > 0 ? `Write ${near.join(' or ')}.` : 'Correct the name, or make the file.',
        }),
      ],
    };
  }
  const read = readSource(files, path, shownName(base, path), place);
  return { value: read.value === undefined ? undefined : { path, source: read.value }, findings: read.findings };
}

/** A file's text. `place`: who asked for it. Errors: `file-missing`, `not-a-file`, `too-large`, `unreadable-file`. */
export function readSource(files: Files, path: HostPath, name: string, place?: Place): Outcome<SourceText | undefined> {
  const tell = (
    code: 'file-missing' | 'not-a-file' | 'too-large' | 'unreadable-file',
    detail: string,
    wayOut: string,
  ): Outcome<undefined> => {
    const finding: Finding = makeFinding(code, { ...(place === undefined ? {} : { place }), detail, wayOut });
    return { value: undefined, findings: [finding] };
  };
  const read = files.read(path, longest);
  switch (read.kind) {
    case 'bytes':
      return { value: { name, text: decodeBytes(read.bytes) }, findings: [] };
    case 'absent':
      return tell('file-missing', `There is no ${visible(name)}.`, 'Correct the name, or make the file.');
    case 'not-a-file':
      return tell(
        'not-a-file',
        `${visible(name)} is a ${read.is === 'other' ? 'device or pipe' : read.is}, and a file is wanted.`,
        'Name a file.',
      );
    case 'too-large':
      return tell(
        'too-large',
        `${visible(name)} has ${read.bytes} bytes; ${longest} are read at most.`,
        'Split it, or see whether it is the file you meant.',
      );
    case 'failed':
      return tell(
        'unreadable-file',
        `${visible(name)} cannot be read: ${read.why}.`,
        'Make it readable, then run the same command again.',
      );
  }
}
