import type { Plan, PlannedFile, PlannedKey } from '../model/plan.ts';
import { keyId } from '../pipeline/plan-write.ts';
import type { Said } from '../pipeline/plan-write.ts';
import { shownText } from '../report/plan-text.ts';
import { scopeText } from '../report/fidelity.ts';
import type { Shell } from './contract.ts';

const asked: ReadonlySet<PlannedKey['class']> = new Set(['changed-by-hand', 'both-changed', 'key-gone']);

interface HandChange {
  readonly file: PlannedFile;
  readonly key: PlannedKey;
}

/** Asks, setting by setting, what is to become of changes made on the device. No answer leaves them as they are. */
export async function askHandChanges(shell: Shell, plan: Plan): Promise<ReadonlyMap<string, Said>> {
  const settings = new Map<string, HandChange[]>();
  for (const file of plan.files) {
    for (const key of file.keys) {
      if (key.act !== 'keep' || !asked.has(key.class)) continue;
      const id = JSON.stringify([key.instance, key.setting, key.item, key.scope]);
      const known = settings.get(id);
      if (known === undefined) settings.set(id, [{ file, key }]);
      else known.push({ file, key });
    }
  }
  const answers = new Map<string, Said>();
  for (const changes of settings.values()) {
    const said = await askOne(shell, changes);
    if (said === 'no-more') break;
    if (said === undefined) continue;
    for (const { file, key } of changes) answers.set(keyId({ ...key, path: file.path }), said);
  }
  return answers;
}

async function askOne(shell: Shell, changes: readonly HandChange[]): Promise<Said | 'no-more' | undefined> {
  const [first] = changes;
  if (first === undefined) return undefined;
  const { key } = first;
  const scope = Object.keys(key.scope).length === 0 ? '' : `, ${scopeText(key.scope)}`;
  const lines = changes.map(
    ({ file, key: one }) =>
      `  ${file.path}${one.cardLine === undefined ? '' : `:${one.cardLine}`}: the card has ${shownText(one.from)}, the profile says ${shownText(one.to)}\n`,
  );
  const answer = await shell.ask(
    `${key.setting}${key.item === undefined ? '' : ` ${key.item}`} on ${key.instance}${scope} was changed on the device:\n${lines.join('')}  p  take the profile's\n  c  let the card's stay, and do not ask again\n  s  stop managing it\n  Enter  leave it for now (thumbwright adopt writes it into the profile)\nWhich? `,
  );
  switch (answer?.trim().toLowerCase()) {
    case undefined:
      return 'no-more';
    case 'p':
      return 'profile';
    case 'c':
      return 'card';
    case 's':
      return 'let-alone';
    default:
      return undefined;
  }
}
