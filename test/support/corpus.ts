import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { decodeBytes } from '../../src/text/encoding.ts';

/** A real file of this machine, for tests that only read it. Nothing of it is copied anywhere. */
export interface CorpusFile {
  readonly path: string;
  readonly text: string;
}

/** Where a Debian machine and an npm project keep configuration of general-purpose software. */
const roots = ['/etc', '/usr/share', '/usr/lib', 'node_modules'];
const largest = 64 * 1024;

/**
 * Files with one of the endings (`.ini`) in file-name order, at most `most`; binary ones, empty ones and those over 64 KiB are
 * left out. Links are not followed. Folders that cannot be read are passed over.
 */
export function corpus(endings: readonly string[], most: number): readonly CorpusFile[] {
  const found: CorpusFile[] = [];
  const wanted = new Set(endings);
  const walk = (folder: string, depth: number): void => {
    let entries;
    try {
      entries = readdirSync(folder, { withFileTypes: true });
    } catch {
      return;
    }
    entries.sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const entry of entries) {
      if (found.length >= most) return;
      const path = join(folder, entry.name);
      if (entry.isDirectory() && depth < 12) walk(path, depth + 1);
      else if (entry.isFile() && wanted.has(extname(entry.name))) read(path);
    }
  };
  const read = (path: string): void => {
    try {
      const { size } = lstatSync(path);
      if (size === 0 || size > largest) return;
      const bytes = readFileSync(path);
      if (!bytes.includes(0)) found.push({ path, text: decodeBytes(bytes) });
    } catch {
      // A file that only its owner may read.
    }
  };
  for (const root of roots) walk(root, 0);
  return found;
}
