import { flag, text } from './contract.ts';
import type { VerbRun } from './contract.ts';
import { bringFetched } from './bring-fetched.ts';
import { writeFetchScript } from './write-fetch-script.ts';

/** Two halves of one trip: the script that goes to the device, and what it brings back. */
export const run: VerbRun = (shell, args, options) => {
  const script = text(options, 'script');
  if (script !== undefined) return writeFetchScript(shell, args, options, script);
  const [from] = args;
  if (from !== undefined) return bringFetched(shell, from, text(options, 'as'), flag(options, 'json'));
  shell.say(
    'thumbwright: what is to be fetched?\nFirst make the script that runs on the device:\n  thumbwright fetch NAME --script bring.sh\nThen, with the card in the desktop, name the folder that it made, or a tar archive of it:\n  thumbwright fetch /media/me/GAMES/thumbwright-fetch\n  thumbwright fetch fetched.tar.gz\n',
  );
  return 2;
};
