import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import { runProfile } from '../pipeline.ts';
import type { CardFolders, PreparedParts, ProfileRun, Project } from '../pipeline.ts';
import { cardRecords } from '../pipeline/card-records.ts';
import { settleByParts } from '../pipeline/confirm-pending.ts';
import { isFetched, newestFetched, withFetched } from '../pipeline/fetched-card.ts';
import { knowCard } from '../pipeline/know-card.ts';
import { recoverCard, targetFindings } from '../pipeline/reach-card.ts';
import type { CardPlace } from '../pipeline/reach-card.ts';
import { paint } from '../report/paint.ts';
import { findingText, sortFindings } from '../report/terminal/findings.ts';
import { cardPlace } from './card-place.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { partsGiven } from './parts-given.ts';
import { sayFindings } from './say-findings.ts';
import { saysFetched } from './says-fetched.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import type { Finding } from '../diagnostics/finding.ts';

/** A profile, and the card that it is to be written to or compared with. */
export interface OpenCard {
  readonly project: Project;
  readonly path: HostPath;
  readonly card: CardFolders;
  readonly run: ProfileRun;
  readonly parts: PreparedParts;
  readonly folders: ReadonlyMap<string, HostPath>;
  /** The id that the card carries, or will. */
  readonly id: string;
  readonly record: CardRecord | undefined;
  /** A bundle is not known to have reached files of parts that were not given. */
  readonly stillPending: boolean;
  /** Parts that carry no id file yet. */
  readonly bare: readonly string[];
  readonly place: CardPlace;
}

/**
 * Opens the one profile that is named and the card that is given, knows the card again or asks which it is, and puts a
 * write that was killed right first. Says what is wrong otherwise.
 */
export async function openCard(
  shell: Shell,
  verb: string,
  args: readonly string[],
  options: Options,
): Promise<OpenCard | ExitStatus> {
  const given = cardFolders(shell, options);
  if (given === 'stop') return 2;
  const chosen = chooseTargets(shell, args);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  if (profile === undefined || profiles.length > 1) {
    shell.say(
      `thumbwright: a card is one device's: say which.\nThere are: ${profiles.map(({ name }) => name).join(', ')}. As in:\n  thumbwright ${verb} ${profile?.name ?? 'NAME'} --card DIR\n`,
    );
    return 2;
  }
  // What no desktop can mount stands in what was fetched of it: enough to look at, and to plan what the device is to do.
  const reads = text(options, 'bundle') !== undefined || flag(options, 'dryRun');
  const fetched = text(options, 'bundle') === undefined ? undefined : newestFetched(project, profile.name);
  const card = withFetched(given, fetched);
  if (fetched !== undefined && card !== given && !saysFetched(shell, project, profile.name, fetched)) return 1;
  if (card === undefined) {
    shell.say(
      `thumbwright: where is the card? Give the folder where each part of it is mounted:\n  thumbwright ${verb} ${profile.name} --card games=/media/me/GAMES --card settings=/media/me/SETTINGS\n`,
    );
    return 2;
  }
  const run = runProfile(project, profile.path, { card, newest: false });
  const { parts } = run;
  if (parts === undefined) {
    sayFindings(shell, run.findings);
    shell.say('Nothing was written.\n');
    return 1;
  }
  const { device } = parts.resolved;
  const folders = partsGiven(shell, `${verb} ${profile.name}`, device, card);
  if (folders === undefined) return 2;
  const copy = reads ? undefined : [...folders.values()].find((folder) => isFetched(project, folder));
  if (copy !== undefined) {
    shell.say(
      `thumbwright: ${shell.show(copy)} is what was fetched of a card, not the card itself.\nTo change the device by what it tells:\n  thumbwright write ${profile.name} --bundle ${profile.name}-bundle.sh\n`,
    );
    return 2;
  }
  const wrong = targetFindings(shell.disk, parts, folders, shell.home, (folder) => shell.show(folder));
  if (wrong.length > 0) {
    sayFindings(shell, wrong);
    return 1;
  }
  const records = cardRecords(project, device.id);
  if (records.findings.some(({ grade }) => grade === 'error')) {
    sayFindings(shell, records.findings);
    return 1;
  }
  const known = await decide(shell, verb, profile.name, device.id, folders, records.value, options);
  if (typeof known === 'number') return known;
  const place = cardPlace(shell, project, { card: known.id, device: device.id, named: profile.name, parts: folders });
  const mended = recoverCard(place);
  sayMended(shell, mended.findings);
  if (mended.value.kind === 'failed') return 3;
  if (mended.value.kind === 'locked') return 1;
  if (mended.value.kind !== 'nothing') {
    // The card and the record are other ones now.
    return openCard(shell, verb, args, options);
  }
  const pending = known.record === undefined ? undefined : settleByParts(project, known.record, folders);
  const settled = pending?.value;
  sayFindings(shell, pending?.findings ?? []);
  if (pending?.findings.some(({ grade }) => grade === 'error') === true) {
    shell.say('Nothing was written.\n');
    return 1;
  }
  const record = settled?.record ?? known.record;
  const stillPending = (settled?.unknown.length ?? 0) > 0;
  return { project, path: profile.path, card, run, parts, folders, ...known, record, stillPending, place };
}

/** That a killed write was put right is a note, and worth a line all the same. */
function sayMended(shell: Shell, findings: readonly Finding[]): void {
  const brush = paint(shell.colour.say);
  for (const finding of sortFindings(findings)) shell.say(`${findingText(finding, brush, shell.width)}\n`);
}

interface Decided {
  readonly id: string;
  readonly record: CardRecord | undefined;
  readonly bare: readonly string[];
}

/** Which card this is. A card that does not say so itself is asked about. */
async function decide(
  shell: Shell,
  verb: string,
  name: string,
  device: string,
  folders: ReadonlyMap<string, HostPath>,
  records: readonly CardRecord[],
  options: Options,
): Promise<Decided | ExitStatus> {
  const known = knowCard(shell.files, device, folders, records);
  const all = [...folders.keys()];
  switch (known.kind) {
    case 'known':
      return { id: known.record.card, record: known.record, bare: known.bare };
    case 'other-device':
      shell.say(
        `thumbwright: the part ${known.part} says that it is the card of ${known.device}, not of ${device}.\nIf it is ${known.device}'s:\n  thumbwright ${verb} ${known.device} --card DIR\nIf it is to become ${device}'s, remove thumbwright-card.txt from it first. Saves that are on it stay.\n`,
      );
      return 1;
    case 'mixed':
      shell.say(
        `thumbwright: the parts are of different cards (${known.ids.map(({ part, card }) => `${part}: ${card}`).join(', ')}).\nMount the parts of one card, or remove thumbwright-card.txt from the part that is new.\n`,
      );
      return 1;
    case 'foreign': {
      const yes =
        flag(options, 'newCard') ||
        (await confirmed(
          shell,
          `The card says that it is ${device}'s, but nothing here knows it: it was set up from another folder.\nTake it over? What stands on it now counts as what was there before. [y/N] `,
        ));
      if (yes) return { id: known.card, record: undefined, bare: [] };
      shell.say(
        `thumbwright: the card was set up from another folder. Nothing was written.\nWork where its record is (.thumbwright/cards/${device}-${known.card}.yaml), or take it over:\n  thumbwright ${verb} ${name} --new-card --card DIR\n`,
      );
      return 1;
    }
    case 'bare': {
      const [only, another] = known.records;
      if (only === undefined || flag(options, 'newCard')) return { id: shell.token(), record: undefined, bare: all };
      if (flag(options, 'sameCard') && another === undefined) return { id: only.card, record: only, bare: all };
      const answer = await shell.ask(
        `${known.records.length === 1 ? 'A card' : 'Cards'} of ${device} ${known.records.length === 1 ? 'was' : 'were'} written before, and this one does not say which it is.\n${known.records.map((record, index) => `  ${index + 1}  the card ${record.card}, with a new image\n`).join('')}  n  another card, new here\nWhich? `,
      );
      const number = Number(answer);
      const picked = Number.isInteger(number) ? known.records[number - 1] : undefined;
      if (picked !== undefined) return { id: picked.card, record: picked, bare: all };
      if (answer?.trim().toLowerCase() === 'n') return { id: shell.token(), record: undefined, bare: all };
      shell.say(
        `thumbwright: this card does not say which it is. Nothing was written.\nThe card that was written before, with a new image on it:\n  thumbwright ${verb} ${name} --same-card --card DIR\nAnother card:\n  thumbwright ${verb} ${name} --new-card --card DIR\n`,
      );
      return 1;
    }
  }
}

/** A yes in so many words; anything else, and nobody there to ask, is none. */
export async function confirmed(shell: Shell, question: string): Promise<boolean> {
  const answer = await shell.ask(question);
  return /^y(es)?$/i.test(answer?.trim() ?? '');
}
