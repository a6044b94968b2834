import type { CardFileSystem } from './card-file-system.ts';

/** Letter by letter, as exFAT's up-case table does: a letter that becomes two (sharp s) stays. */
function upper(text: string): string {
  return [...text]
    .map((letter) => (letter.toUpperCase().length === letter.length ? letter.toUpperCase() : letter))
    .join('');
}

function upperAscii(text: string): string {
  return text.replace(/[a-z]+/g, (letters) => letters.toUpperCase());
}

/**
 * Two paths of one result are surely one file there. FAT: ASCII only, since for other letters it hangs on how it is
 * mounted (two files with Linux's default, one with utf8).
 */
export function foldedBy(path: string, fileSystem: CardFileSystem): string {
  if (fileSystem === 'exfat') return upper(path);
  return fileSystem === 'fat' ? upperAscii(path) : path;
}

/** Two paths of one result are one file on some desktop, or look alike: case, and composed against decomposed letters. */
export function foldedAnywhere(path: string): string {
  return upper(path.normalize('NFC'));
}
