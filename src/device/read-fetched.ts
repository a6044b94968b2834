import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { decodeBytes } from '../text/encoding.ts';

/** What one run of the fetch script brought. Nothing of it is trusted: it may have been made by a stranger. */
export interface Fetched {
  /** By path from the folder, `/` between names. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** Parts of a capture; absent when the device gave no list of inputs. */
  readonly controls?: {
    readonly wordSize: 32 | 64 | undefined;
    readonly list: string;
    readonly asked: readonly string[];
    readonly events: ReadonlyMap<string, Uint8Array>;
  };
}

/** Files: number; bytes of one, of the event bytes of one input, of all; names below one another. */
export const fetchedBounds = { files: 20_000, file: 1 << 20, events: 16 << 20, all: 256 << 20, depth: 16 } as const;

/**
 * Reads the folder that the fetch script made. Links are not followed, and a name that could lead elsewhere is left out.
 * Findings: `not-fetched` (the value is then undefined), `fetched-left-out`.
 */
export function readFetched(files: Files, folder: HostPath): Outcome<Fetched | undefined> {
  if (files.kind(files.join(folder, 'DONE.txt')) !== 'file') {
    const inner = (files.list(folder) ?? [])
      .filter(({ name, kind }) => kind === 'folder' && /^\d+$/.test(name))
      .map(({ name }) => Number(name));
    return {
      value: undefined,
      findings: [
        makeFinding('not-fetched', {
          detail: 'The folder has no DONE.txt, with which a run of the fetch script ends.',
          wayOut:
            inner.length > 0
              ? `Name the run in it: add /${Math.max(...inner)} to the path.`
              : 'Name a numbered folder in thumbwright-fetch on the games part; if it has no DONE.txt, run the script on the device again.',
        }),
      ],
    };
  }
  const found = new Map<string, Uint8Array>();
  const left: string[] = [];
  let bytes = 0;
  // A desktop may take two names for one that differ in case alone, or in how their accents are written.
  const taken = new Set<string>();
  const walk = (at: HostPath, names: readonly string[]): void => {
    for (const { name, kind } of files.list(at) ?? []) {
      const path = [...names, name].join('/');
      const folded = path.normalize('NFC').toLowerCase();
      // Made visible where it is told; here only plain names pass.
      if (!isPlainName(name)) left.push(`${path}: its name`);
      else if (names.length >= fetchedBounds.depth) left.push(`${path}: it lies too deep`);
      else if (taken.has(folded)) left.push(`${path}: another has that name, but for capital letters or accents`);
      else if (kind === 'folder') {
        taken.add(folded);
        walk(files.join(at, name), [...names, name]);
      } else if (kind !== 'file') left.push(`${path}: a ${kind === 'link' ? 'link' : 'special file'}`);
      else if (found.size >= fetchedBounds.files || bytes >= fetchedBounds.all) left.push(`${path}: there is too much`);
      else {
        const read = files.read(
          files.join(at, name),
          names[0] === 'events' ? fetchedBounds.events : fetchedBounds.file,
        );
        if (read.kind === 'bytes') {
          found.set(path, read.bytes);
          taken.add(folded);
          bytes += read.bytes.length;
        } else left.push(`${path}: ${read.kind === 'too-large' ? 'too large' : 'it cannot be read'}`);
      }
    }
  };
  walk(folder, []);
  const findings = left.length === 0 ? [] : [leftOut(left)];
  return { value: { files: found, ...controlsOf(found) }, findings };
}

/** Tells what was not taken: a line each, of which the first five are shown. */
export function leftOut(left: readonly string[]): Finding {
  return makeFinding('fetched-left-out', {
    detail: `Left out: ${left
      .slice(0, 5)
      .map((one) => visible(one))
      .join('; ')}${left.length > 5 ? `; and ${left.length - 5} more` : ''}.`,
    wayOut: 'Copy by hand what you need of it; the rest is used as it is.',
  });
}

/**
 * Whether every desktop can hold a file of this name, and takes it for nothing else (Microsoft, 'Naming Files, Paths, and
 * Namespaces', from memory: reserved characters and names, and no dot or blank at the end).
 */
function isPlainName(name: string): boolean {
  return (
    !/[\0-\x1f\x7f\\/:<>"|?*]|[. ]$/.test(name) &&
    !/^(con|prn|aux|nul|(com|lpt)[0-9\u00b9\u00b2\u00b3])(\.|$)/i.test(name)
  );
}

function controlsOf(found: ReadonlyMap<string, Uint8Array>): Pick<Fetched, 'controls'> {
  const textOf = (path: string): string => decodeBytes(found.get(path) ?? new Uint8Array());
  const list = textOf('inputs.txt');
  if (list.trim() === '') return {};
  const size = /^word-size: (32|64)$/m.exec(textOf('about.txt'))?.[1];
  const events = new Map<string, Uint8Array>();
  for (const [path, bytes] of found) {
    const event = /^events\/(event\d+)$/.exec(path)?.[1];
    if (event !== undefined && bytes.length > 0) events.set(event, bytes);
  }
  const asked = textOf('press-order.txt')
    .split(/\r?\n/)
    .filter((line) => line !== '');
  return {
    controls: {
      wordSize: size === undefined ? undefined : size === '64' ? 64 : 32,
      list,
      asked: events.size > 0 ? asked : [],
      events,
    },
  };
}
