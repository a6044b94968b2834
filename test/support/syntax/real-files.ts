import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Where an ordinary machine keeps configuration that nobody here wrote: npm packages, Debian packages. */
const roots = ['node_modules', '/etc', '/usr/share', '/usr/lib'];

export interface RealFile {
  readonly path: string;
  readonly text: string;
}

/**
 * Up to `most` real files whose names end so, in a fixed order, at most `each` of one folder; none over 64 KiB, none
 * that is not UTF-8, none of a test suite (those are judged apart).
 */
export function realFiles(ending: RegExp, most: number, each: number): readonly RealFile[] {
  const files: RealFile[] = [];
  const visit = (folder: string, depth: number): void => {
    if (files.length >= most || depth > 9) return;
    let names: { name: string; folder: boolean; file: boolean }[];
    try {
      names = readdirSync(folder, { withFileTypes: true }).map((entry) => ({
        name: entry.name,
        folder: entry.isDirectory(),
        file: entry.isFile(),
      }));
    } catch {
      return;
    }
    names.sort((a, b) => (a.name < b.name ? -1 : 1));
    let here = 0;
    for (const { name, folder: isFolder, file } of names) {
      const path = join(folder, name);
      if (isFolder && !/test-suite|conformance|^\.run-/.test(name)) visit(path, depth + 1);
      if (!file || !ending.test(name) || here >= each || files.length >= most || statSync(path).size > 65_536) continue;
      const bytes = readFileSync(path);
      const text = bytes.toString('utf8');
      if (!Buffer.from(text, 'utf8').equals(bytes)) continue;
      here += 1;
      files.push({ path, text });
    }
  };
  for (const root of roots) visit(root, 0);
  return files;
}
