import { partFolder } from '../1-load/base-files.ts';
import type { CardFolders } from '../1-load/base-files.ts';
import { isInside } from '../1-load/workspace.ts';
import { CardText } from '../adopt/card-text.ts';
import type { CardBase, CardFolder } from '../adopt/card-text.ts';
import { styleOf } from '../dialect/style-of.ts';
import type { Files } from '../files/contract.ts';
import { splitCardPath } from '../model/paths.ts';
import { syntaxes } from '../syntax/registry.ts';

/** What stands on a card, by the syntaxes that we know. */
export function cardTextOf(files: Files, card: CardFolders, base: CardBase): CardText {
  return new CardText(
    base,
    (file, source) => {
      const syntax = syntaxes[file.syntax];
      const { tree } = syntax.parse(source, styleOf(file.style));
      return tree === undefined ? undefined : { tree, records: syntax.records };
    },
    filesBelow(files, card),
  );
}

/** The names of the files in a folder of a card; a folder that a link leads out of the card to has none. */
function filesBelow(files: Files, card: CardFolders): CardFolder {
  return (path) => {
    const { part, path: inPart } = splitCardPath(path);
    const folder = partFolder(files, card, part);
    if (folder === undefined) return [];
    const host = files.join(folder, ...inPart.split('/'));
    if (!isInside(files, { folder, real: files.real(folder) ?? folder, label: '' }, host)) return [];
    return (files.list(host) ?? []).flatMap(({ name, kind }) => (kind === 'file' ? [name] : []));
  };
}
