import type { Finding } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { SourceText } from '../text/source-text.ts';
import { readSource } from './find-file.ts';
import { offeredPackages } from './packages.ts';
import { isInside, shownName } from './workspace.ts';
import type { Base, Workspace } from './workspace.ts';

/** A dialect or catalog file at hand, by what its first lines say; read in full only when it is taken. */
export interface Shelved {
  readonly name: string;
  /** As written; empty when the file says none. */
  readonly version: string;
  readonly path: HostPath;
  readonly base: Base;
  readonly source: SourceText;
}

export interface Shelf {
  readonly items: readonly Shelved[];
  readonly findings: readonly Finding[];
}

/** Name and version from the text alone: quotes and comments off. The full reading checks both again. */
function headOf(
  text: string,
  kind: 'dialect' | 'catalog',
): { readonly name: string; readonly version: string } | undefined {
  const member = (key: string): string | undefined =>
    new RegExp(`^${key}:[ \\t]+["']?([^\\s"'#]+)`, 'm').exec(text)?.[1];
  const name = member(kind);
  return name === undefined ? undefined : { name, version: member('version') ?? '' };
}

/** All dialects (or catalogs) at hand: the workspace's own folder, then those of installed packages. */
export function readShelf(files: Files, workspace: Workspace, kind: 'dialect' | 'catalog'): Shelf {
  const items: Shelved[] = [];
  const findings: Finding[] = [];
  const add = (base: Base, folder: HostPath): void => {
    for (const entry of files.list(folder) ?? []) {
      if (entry.kind === 'folder' || !/\.ya?ml$/i.test(entry.name)) continue;
      const path = files.join(folder, entry.name);
      // A link out of its base is passed over: nothing outside is read.
      if (!isInside(files, base, path)) continue;
      const read = readSource(files, path, shownName(base, path));
      findings.push(...read.findings);
      if (read.value === undefined) continue;
      const head = headOf(read.value.text, kind);
      if (head !== undefined) items.push({ ...head, path, base, source: read.value });
    }
  };
  const own = kind === 'dialect' ? 'dialects' : 'catalogs';
  add(workspace.base, files.join(workspace.profiles, own));
  for (const offer of offeredPackages(files, workspace)) {
    const folder = kind === 'dialect' ? offer.dialects : offer.catalogs;
    if (folder !== undefined && !/^(\/|\\|[a-z]:)|(^|[/\\])\.\.([/\\]|$)/i.test(folder))
      add(offer.base, files.join(offer.base.folder, ...folder.split('/')));
  }
  return { items, findings };
}
