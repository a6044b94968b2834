import { encodeText } from '../text/encoding.ts';
import type { Shell } from './contract.ts';

/** Keeps a report as a page; says why where it cannot. */
export function savePage(shell: Shell, file: string, page: string): boolean {
  const written = shell.files.write(shell.path(file), encodeText(page));
  if (written.kind === 'done') {
    shell.say(`The report is in ${shell.show(shell.path(file))}.\n`);
    return true;
  }
  shell.say(
    `thumbwright: ${shell.show(shell.path(file))} cannot be written: ${written.why}.\nThe card is as it was. Name another file after --html.\n`,
  );
  return false;
}
