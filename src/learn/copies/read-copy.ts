import type { Files } from '../../files/contract.ts';
import type { HostPath } from '../../model/paths.ts';
import { decodeBytes } from '../../text/encoding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Copy, LeftAlone } from '../contract.ts';
import { largestText, whyLeftAlone } from './why-left-alone.ts';

/** Files of one copy, names below one another, and bytes of all texts: more is no frontend's folder. */
const copyBounds = { files: 5000, depth: 12, all: 64 << 20 } as const;

/**
 * The texts of a folder. Links are not followed. Everything that is no configuration is listed with its reason.
 * `name`: how the copy is called in messages.
 */
export function readCopy(files: Files, folder: HostPath, name: string): Copy {
  const texts = new Map<string, SourceText>();
  const leftAlone: LeftAlone[] = [];
  let bytes = 0;
  const walk = (at: HostPath, names: readonly string[]): void => {
    const inside = files.list(at);
    if (inside === undefined) leftAlone.push({ path: names.join('/') || '.', why: 'it cannot be listed' });
    for (const entry of inside ?? []) {
      const path = [...names, entry.name].join('/');
      const leave = (why: string): void => {
        leftAlone.push({ path, why });
      };
      if (texts.size >= copyBounds.files || bytes >= copyBounds.all) leave('there is too much');
      else if (entry.kind === 'folder') {
        if (names.length >= copyBounds.depth) leave('it lies too deep');
        else walk(files.join(at, entry.name), [...names, entry.name]);
      } else if (entry.kind !== 'file') leave(entry.kind === 'link' ? 'a link' : 'a special file');
      else {
        const read = files.read(files.join(at, entry.name), largestText);
        if (read.kind === 'too-large') leave('too large');
        else if (read.kind !== 'bytes') leave('it cannot be read');
        else {
          const why = whyLeftAlone(path, read.bytes);
          if (why !== undefined) leave(why);
          else {
            texts.set(path, { name: `${name}/${path}`, text: decodeBytes(read.bytes) });
            bytes += read.bytes.length;
          }
        }
      }
    }
  };
  walk(folder, []);
  return { name, texts, leftAlone };
}
