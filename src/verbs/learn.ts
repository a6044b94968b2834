import { flag, text } from './contract.ts';
import type { VerbRun } from './contract.ts';
import { learnSheet } from './learn-sheet.ts';
import { learnVerify } from './learn-verify.ts';

export const run: VerbRun = (shell, args, options) => {
  const folder = text(options, 'verify');
  if (flag(options, 'sheet') && folder === undefined) return learnSheet(shell, args, options);
  if (folder !== undefined && !flag(options, 'sheet')) return learnVerify(shell, args, options, folder);
  shell.say('thumbwright: learn wants either --sheet or --verify FOLDER.\nSee:\n  thumbwright help learn\n');
  return 2;
};
