import type { Disk } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';
import type { Change } from './survey.ts';

/** A name beside each file that nothing has yet. */
export function temporaryNames(
  disk: Disk,
  roots: ReadonlyMap<string, HostPath>,
  changes: readonly Change[],
): readonly string[] {
  const taken = new Set<string>();
  return changes.map(({ part, at }) => {
    const root = roots.get(part);
    const folder = at.slice(0, at.lastIndexOf('/') + 1);
    for (let count = 0; ; count++) {
      const name = `${folder}.thumbwright-${count}.new`;
      const free = root === undefined || disk.stat(disk.join(root, name)).kind === 'failed';
      if (!free || taken.has(`${part}:${name}`)) continue;
      taken.add(`${part}:${name}`);
      return name;
    }
  });
}
