import { carryPlan } from '../pipeline/carry-plan.ts';
import { dropPending } from '../pipeline/pending-record.ts';
import { keepKey, keepSeen } from '../pipeline/private-store.ts';
import type { CardPlace } from '../pipeline/reach-card.ts';
import type { Project } from '../pipeline.ts';
import { planJson } from '../report/json-plan.ts';
import type { PlanShown } from '../report/json-plan.ts';
import { count } from '../report/wrap.ts';
import { flag } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { sayFindings } from './say-findings.ts';
import { stopWrite } from './stop-write.ts';
import { version } from './version.ts';
import { writeOut } from './write-out.ts';
import type { OutFile } from './write-out.ts';

/** What a plan is carried out with. */
export interface CarryWith {
  readonly project: Project;
  readonly place: CardPlace;
  readonly key: string;
  readonly secret: (name: string) => string | undefined;
  /** Names of the secrets that reach the card. */
  readonly secrets: readonly string[];
  /** Files of the workspace to be written first, whole. */
  readonly own: readonly OutFile[];
}

/** Carries a plan out, keeps what the next write has to know, and says what became of it. */
export function carryOut(shell: Shell, options: Options, wanted: PlanShown, with_: CarryWith): ExitStatus {
  const { project, place } = with_;
  const kept = keepKey(project, with_.key);
  if (kept.kind === 'failed') return workspaceFailed(shell, kept.why);
  const own = writeOut(project.files, with_.own);
  if (own.kind === 'failed') return workspaceFailed(shell, own.why);
  const carried = carryPlan(project.files, {
    plan: wanted.plan,
    place,
    secret: with_.secret,
    key: with_.key,
  });
  if (carried.value === undefined) return stopWrite(shell, options, carried.findings);
  const { applied, texts } = carried.value;
  const json = flag(options, 'json');
  if (!json) sayFindings(shell, carried.findings);
  switch (applied.kind) {
    case 'refused':
    case 'locked':
      if (json) return stopWrite(shell, options, carried.findings);
      shell.say('Nothing was written.\n');
      return 1;
    case 'failed':
      if (json) stopWrite(shell, options, carried.findings);
      return 3;
    case 'nothing':
    case 'done': {
      // One that is left behind says nothing any more: the record does.
      if (wanted.plan.record.state === 'written') dropPending(project, wanted.plan.device, wanted.plan.card);
      const seen = keepSeen(project, wanted.plan.card, texts);
      if (seen.kind === 'failed')
        shell.say(`The card is written; what it holds could not be kept for the next time: ${seen.why}.\n`);
      const files = applied.kind === 'done' ? applied.files : [];
      if (json) shell.out(`${JSON.stringify(planJson(version, wanted, files, carried.findings), undefined, 2)}\n`);
      else if (files.length > 0) {
        shell.out(`Written and read back: ${count(files.length, 'file')}.\n`);
        if (with_.secrets.length > 0)
          shell.out(
            `The card now holds ${count(with_.secrets.length, 'secret')} in plain text: whoever has the card can read them.\n`,
          );
        shell.out(`Eject the card before you pull it. To take this back:\n  ${place.commands.undo}\n`);
      }
      return 0;
    }
  }
}

function workspaceFailed(shell: Shell, why: string): ExitStatus {
  shell.say(
    `thumbwright: the folder of the profiles cannot be written: ${why}.\nThe card is as it was. Make the folder writable, then run the same command again.\n`,
  );
  return 3;
}
