import type { HostPath } from '../model/paths.ts';
import type { Project } from '../pipeline.ts';
import { recordPath, storePath } from '../pipeline/card-records.ts';
import type { CardPlace } from '../pipeline/reach-card.ts';
import type { Shell } from './contract.ts';

/** A card by its id, the device whose it is, the profile's name as a command has it, and where its parts are mounted. */
interface MountedCard {
  readonly card: string;
  readonly device: string;
  readonly named: string;
  readonly parts: ReadonlyMap<string, HostPath>;
}

/** A path as a POSIX shell reads it. */
export function shellQuoted(path: string): string {
  return /^[A-Za-z0-9_./-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`;
}

/** The options of a command that say where a card is mounted. */
export function cardOptions(shell: Shell, parts: ReadonlyMap<string, HostPath>): string {
  return [...parts].map(([name, folder]) => `--card ${name}=${shellQuoted(shell.show(folder))}`).join(' ');
}

/** Where a card is, where what is kept of it is, and the commands that mend it. */
export function cardPlace(shell: Shell, project: Project, mounted: MountedCard): CardPlace {
  const { card, device, named, parts } = mounted;
  const suffix = cardOptions(shell, parts);
  return {
    disk: shell.disk,
    store: storePath(project, card),
    parts,
    record: recordPath(project, device, card),
    stamp: shell.stamp(),
    pid: shell.pid,
    isAlive: (pid) => shell.isAlive(pid),
    commands: {
      write: `thumbwright write ${named} ${suffix}`,
      undo: `thumbwright undo ${named} ${suffix}`,
    },
  };
}
