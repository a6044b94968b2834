import { flag, text } from './contract.ts';
import type { VerbRun } from './contract.ts';
import { learnFromCopies } from './learn-copies.ts';
import { learnSheet } from './learn-sheet.ts';
import { learnVerify } from './learn-verify.ts';

export const run: VerbRun = (shell, args, options) => {
  const folder = text(options, 'verify');
  if (flag(options, 'sheet') && folder === undefined) return learnSheet(shell, args, options);
  if (folder !== undefined && !flag(options, 'sheet')) return learnVerify(shell, args, options, folder);
  if (args.length > 0 && folder === undefined && !flag(options, 'sheet')) return learnFromCopies(shell, args, options);
  shell.say(
    'thumbwright: learn wants copies of a folder, or either --sheet or --verify FOLDER.\nSee:\n  thumbwright help learn\n',
  );
  return 2;
};
