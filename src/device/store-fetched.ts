import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { Fetched } from './read-fetched.ts';

export type Stored =
  | { readonly kind: 'stored' | 'known'; readonly folder: HostPath; readonly number: number }
  | { readonly kind: 'failed'; readonly folder: HostPath; readonly why: string };

/** What is always the same for one run on a device, and differs from every other. */
const marks = ['DONE.txt', 'about.txt', 'inputs.txt'];

/**
 * Puts what a device brought into a numbered folder of `home`, with a `capture.txt` beside it. A run that is there
 * already is known again by its own texts. DONE.txt comes last: a copy without it was cut off.
 */
export function storeFetched(files: Files, home: HostPath, fetched: Fetched, capture: string | undefined): Stored {
  const numbers = (files.list(home) ?? []).flatMap(({ name, kind }) =>
    kind === 'folder' && /^[1-9]\d{0,5}$/.test(name) ? [Number(name)] : [],
  );
  for (const number of numbers) {
    const folder = files.join(home, String(number));
    if (marks.every((mark) => same(files, files.join(folder, mark), fetched.files.get(mark))))
      return { kind: 'known', folder, number };
  }
  const number = Math.max(0, ...numbers) + 1;
  const folder = files.join(home, String(number));
  const put = (path: string, bytes: Uint8Array): string | undefined => {
    // Names were looked at one by one as they were read: none of them leads out of the folder.
    const result = files.write(files.join(folder, ...path.split('/')), bytes, 0o600);
    return result.kind === 'failed' ? result.why : undefined;
  };
  const late = fetched.files.get('DONE.txt') ?? new Uint8Array();
  const own = [...fetched.files].filter(([path]) => path !== 'DONE.txt' && path !== 'capture.txt');
  if (capture !== undefined) own.push(['capture.txt', Buffer.from(capture)]);
  for (const [path, bytes] of [...own, ['DONE.txt', late] as const]) {
    const why = put(path, bytes);
    if (why !== undefined) return { kind: 'failed', folder, why };
  }
  return { kind: 'stored', folder, number };
}

function same(files: Files, path: HostPath, bytes: Uint8Array | undefined): boolean {
  const read = files.read(path);
  if (bytes === undefined) return read.kind === 'absent';
  return read.kind === 'bytes' && Buffer.compare(read.bytes, bytes) === 0;
}
