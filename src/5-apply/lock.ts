import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DiskFailure } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardPlace } from './apply-input.ts';
import { ensureFolder, removeIfThere } from './steps.ts';

type Locked =
  | { readonly kind: 'locked'; readonly lock: HostPath; readonly findings: readonly Finding[] }
  | { readonly kind: 'taken'; readonly finding: Finding }
  | DiskFailure;

/**
 * One process at a time works on a card. Each puts up a file with its number in the name (so a torn one still tells),
 * then looks whether another's stands there: of two at once, both may give way, but never do both go on.
 */
export function takeLock({ disk, store, pid, isAlive, commands }: CardPlace): Locked {
  const made = ensureFolder(disk, store, { mode: 0o700 });
  if (made.kind === 'failed') return made;
  const lock = disk.join(store, `lock-${pid}`);
  const put = disk.writeNew(lock, new Uint8Array(), { mode: 0o600 });
  // Ours by number: left by a process that is no more.
  if (put.kind === 'failed' && put.trouble !== 'exists') {
    disk.remove(lock);
    return put;
  }
  const listed = disk.list(store);
  if (listed.kind === 'failed') {
    disk.remove(lock);
    return listed;
  }
  const findings: Finding[] = [];
  for (const name of listed.names) {
    const other = Number(/^lock-(\d+)$/.exec(name)?.[1] ?? pid);
    if (other === pid) continue;
    if (isAlive(other)) {
      disk.remove(lock);
      return { kind: 'taken', finding: taken(other, name, commands.write) };
    }
    removeIfThere(disk, disk.join(store, name));
    findings.push(
      makeFinding('lock-taken-over', {
        detail: `Process ${other} was at work on this card and ended without saying so. What it left is put right first.`,
        wayOut: 'Nothing is to be done.',
      }),
    );
  }
  return { kind: 'locked', lock, findings };
}

function taken(other: number, name: string, command: string): Finding {
  return makeFinding('locked-by-another', {
    detail: `Process ${other} is at work on this card. Two at once could undo each other's files, so nothing was done.`,
    wayOut: `Wait until it has ended, then run this again:\n\n    ${command}\n\nIf process ${other} is another program, remove the file ${name} in the card's folder under .thumbwright/private/cards/.`,
  });
}
