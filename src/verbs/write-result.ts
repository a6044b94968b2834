import type { HostPath } from '../model/paths.ts';
import { encodeText } from '../text/encoding.ts';
import type { Shell } from './contract.ts';

/** Writes one text that was asked for. False: it could not be, which is said with a way out; nothing of it is left. */
export function writeResult(shell: Shell, path: HostPath, text: string): boolean {
  const wrote = shell.files.write(path, encodeText(text));
  if (wrote.kind !== 'failed') return true;
  shell.say(
    `thumbwright: ${shell.show(path)} cannot be written: ${wrote.why}.\nMake the folder writable, then run the same command again.\n`,
  );
  return false;
}
