import type { Plan } from '../model/plan.ts';
import { count } from '../report/wrap.ts';
import { flag } from './contract.ts';
import type { Options, Shell } from './contract.ts';
import { confirmed } from './open-card.ts';

/** Whether the person wants a plan carried out. What could cost saves or states needs a yes of its own. */
export async function agreed(shell: Shell, options: Options, plan: Plan, command: string): Promise<boolean> {
  const yes = flag(options, 'yes');
  if (plan.saveRisks.length > 0 && !flag(options, 'savesMayMove')) {
    const question = 'Saves or states made so far may not be found, or not be read. Go on all the same? [y/N] ';
    if (yes || !(await confirmed(shell, question))) {
      shell.say(
        `Nothing was written: saves and states are at stake.\nKeep a copy of them, then say that you mean it:\n  ${command} --saves-may-move\n`,
      );
      return false;
    }
  }
  const acting = plan.files.filter((file) => file.act !== 'nothing').length;
  if (acting === 0 || yes || (await confirmed(shell, `Write ${count(acting, 'file')} to this card? [y/N] `)))
    return true;
  shell.say(`Nothing was written.\nTo write without being asked:\n  ${command} --yes\n`);
  return false;
}
