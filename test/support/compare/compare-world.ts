import type { MemoryFiles } from '../../../src/files/memory.ts';
import type { Comparison } from '../../../src/model/comparison.ts';
import { compareSides, prepareSide } from '../../../src/pipeline/compare-profiles.ts';
import type { ReadSide } from '../../../src/pipeline/compare-profiles.ts';
import { open, profileOf } from '../adopt/adopt-world.ts';

/** A profile of a workspace in memory, ready to be compared; a mistake in it is one of the test's. */
export function sideIn(files: MemoryFiles, profile: string, instance?: string): ReadSide {
  const project = open(files);
  const shown = instance === undefined ? profile : `${profile}#${instance}`;
  const named = { shown, project, path: profileOf(project, profile), instance };
  const { value, findings } = prepareSide(named);
  if (value === undefined) throw new Error(findings.map(({ detail }) => detail).join('\n'));
  return { named, parts: value };
}

export function compareIn(files: MemoryFiles, a: string, b: string): Comparison {
  return compareSides(sideIn(files, a), sideIn(files, b));
}
