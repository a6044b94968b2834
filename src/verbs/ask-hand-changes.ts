import type { SettingPlace } from '../model/adoption.ts';
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

/** What is to become of hand changes: by key, and what is to be written into the profile. */
export interface HandAnswers {
  readonly said: ReadonlyMap<string, Said>;
  readonly intoProfile: readonly SettingPlace[];
}

/** Asks, setting by setting, what is to become of changes made on the device. No answer leaves them as they are. */
export async function askHandChanges(shell: Shell, plan: Plan, mayAdopt: boolean): Promise<HandAnswers> {
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
  const intoProfile: SettingPlace[] = [];
  for (const changes of settings.values()) {
    const said = await askOne(shell, changes, mayAdopt);
    if (said === 'no-more') break;
    if (said === undefined) continue;
    if (said === 'into-profile') {
      for (const { key } of changes.slice(0, 1)) intoProfile.push(placeOf(key));
      continue;
    }
    for (const { file, key } of changes) answers.set(keyId({ ...key, path: file.path }), said);
  }
  return { said: answers, intoProfile };
}

function placeOf({ setting, item, instance, scope }: PlannedKey): SettingPlace {
  return { setting, ...(item === undefined ? {} : { item }), instance, scope };
}

/** Raw keys stand in the profile by hand only. */
function mayGoIntoProfile({ setting }: PlannedKey): boolean {
  return setting !== 'extra';
}

async function askOne(
  shell: Shell,
  changes: readonly HandChange[],
  mayAdopt: boolean,
): Promise<Said | 'into-profile' | 'no-more' | undefined> {
  const [first] = changes;
  if (first === undefined) return undefined;
  const { key } = first;
  const scope = Object.keys(key.scope).length === 0 ? '' : `, ${scopeText(key.scope)}`;
  const into = mayAdopt && mayGoIntoProfile(key);
  const lines = changes.map(
    ({ file, key: one }) =>
      `  ${file.path}${one.cardLine === undefined ? '' : `:${one.cardLine}`}: the card has ${shownText(one.from)}, the profile says ${shownText(one.to)}\n`,
  );
  const answer = await shell.ask(
    `${key.setting}${key.item === undefined ? '' : ` ${key.item}`} on ${key.instance}${scope} was changed on the device:\n${lines.join('')}  p  take the profile's\n  c  let the card's stay, and do not ask again\n${into ? '  w  write it into the profile\n' : ''}  s  stop managing it\n  Enter  leave it for now\nWhich? `,
  );
  switch (answer?.trim().toLowerCase()) {
    case undefined:
      return 'no-more';
    case 'p':
      return 'profile';
    case 'c':
      return 'card';
    case 'w':
      return into ? 'into-profile' : undefined;
    case 's':
      return 'let-alone';
    default:
      return undefined;
  }
}
