import type { Files } from '../files/contract.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';
import type { SourceText } from '../text/source-text.ts';
import { readSource } from './find-file.ts';
import { stockFile } from './load-dialect.ts';
import type { LoadedDialect } from './load-dialect.ts';
import { isInside } from './workspace.ts';

/** `--card`: one folder with a folder for each part (or for a single part), or a folder for each. */
export interface CardFolders {
  readonly whole: HostPath | undefined;
  readonly parts: ReadonlyMap<string, HostPath>;
}

/** The folder of a part: its own, or the part's folder below the whole card, or that folder itself for a card of one part. */
export function partFolder(files: Files, card: CardFolders | undefined, part: string): HostPath | undefined {
  const own = card?.parts.get(part);
  if (own !== undefined) return own;
  if (card?.whole === undefined) return undefined;
  const below = files.join(card.whole, part);
  return files.kind(below) === 'folder' ? below : card.whole;
}

/** What stands before us: the card's own files where one is given, else the dialect's stock tree of the exact version. */
export function baseOf(
  files: Files,
  resolved: Resolved,
  dialects: ReadonlyMap<string, LoadedDialect>,
  card: CardFolders | undefined,
): (path: CardPath) => SourceText | undefined {
  const known = new Map<CardPath, SourceText | undefined>();
  const read = (path: CardPath): SourceText | undefined => {
    const { part, path: inPart } = splitCardPath(path);
    if (card !== undefined) {
      const folder = partFolder(files, card, part);
      if (folder === undefined) return undefined;
      const host = files.join(folder, ...inPart.split('/'));
      const inside = isInside(files, { folder, real: files.real(folder) ?? folder, label: '' }, host);
      return inside ? readSource(files, host, path).value : undefined;
    }
    for (const instance of resolved.instances) {
      const dialect = dialects.get(instance.name);
      const prefix = instance.root.endsWith(':') ? instance.root : `${instance.root}/`;
      if (dialect === undefined || instance.version === undefined || !path.startsWith(prefix)) continue;
      const stock = stockFile(files, dialect, instance.version, path.slice(prefix.length));
      if (stock !== undefined) return stock;
    }
    return undefined;
  };
  return (path) => {
    if (!known.has(path)) known.set(path, read(path));
    return known.get(path);
  };
}
