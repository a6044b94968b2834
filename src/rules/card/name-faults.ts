import type { CardFileSystem } from './card-file-system.ts';

/** What is wrong with one name. `stops`: the part itself cannot hold it; otherwise some desktop cannot. */
export interface NameFault {
  readonly stops: boolean;
  /** A clause after the name. */
  readonly why: string;
}

/** Microsoft, 'Naming Files, Paths, and Namespaces'. Linux's vfat and exfat refuse them too (EINVAL). */
const reservedCharacters = /[<>:"\\|?*\x01-\x1f]/;
/** The same page: with an extension as well. Linux accepts them all. */
const reservedName = /^(?:con|prn|aux|nul|com[1-9]|lpt[1-9])(?: *\..*)?$/i;
/** In UTF-16 units: exFAT file system specification, 7.7.3, and the long names of FAT. In bytes: Linux's NAME_MAX. */
const longest = 255;

/** What speaks against a name of one file or folder. */
export function nameFaults(name: string, fileSystem: CardFileSystem): readonly NameFault[] {
  const faults: NameFault[] = [];
  const flat = fileSystem === 'fat' || fileSystem === 'exfat';
  const bytes = Buffer.byteLength(name, 'utf8');
  const reserved = reservedCharacters.exec(name)?.[0];
  if (reserved !== undefined)
    faults.push({
      stops: flat,
      why: flat ? `holds ${JSON.stringify(reserved)}, which it refuses` : `holds ${JSON.stringify(reserved)}`,
    });
  if (name.endsWith('.'))
    faults.push({ stops: flat, why: flat ? 'ends in a dot, which it drops without a word' : 'ends in a dot' });
  if (name.endsWith(' '))
    faults.push({
      stops: fileSystem === 'fat',
      why: fileSystem === 'fat' ? 'ends in a blank, which it refuses' : 'ends in a blank',
    });
  if (reservedName.test(name)) faults.push({ stops: false, why: 'is kept for a device by some desktops' });
  if (name.length > longest) faults.push({ stops: true, why: `has ${name.length} UTF-16 units, and ${longest} fit` });
  else if (bytes > longest && fileSystem !== 'exfat')
    faults.push({
      // As FAT is mounted by default, Linux counts bytes there too; mounted as utf8 it counts units, as exFAT does.
      stops: fileSystem === 'unix',
      why: `takes ${bytes} bytes in UTF-8, and Linux's own file systems hold ${longest}`,
    });
  return faults;
}
