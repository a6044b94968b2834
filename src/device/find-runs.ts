import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';

/**
 * The runs of the fetch script that a folder holds, the oldest first: itself, or the numbered folders in it or in its
 * `thumbwright-fetch` (where the folder is a whole card). Runs that were cut off (`2.part`) are named apart.
 */
export function findRuns(
  files: Files,
  folder: HostPath,
): { readonly runs: readonly HostPath[]; readonly cutOff: readonly string[] } {
  if (files.kind(files.join(folder, 'about.txt')) === 'file') return { runs: [folder], cutOff: [] };
  const below = files.join(folder, 'thumbwright-fetch');
  const home = files.kind(below) === 'folder' ? below : folder;
  const entries = (files.list(home) ?? []).filter(({ kind }) => kind === 'folder');
  const runs = entries
    .filter(({ name }) => /^[1-9]\d{0,5}$/.test(name))
    .map(({ name }) => Number(name))
    .sort((a, b) => a - b)
    .map((number) => files.join(home, String(number)));
  return { runs, cutOff: entries.map(({ name }) => name).filter((name) => /^[1-9]\d{0,5}\.part$/.test(name)) };
}
