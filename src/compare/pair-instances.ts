import type { Instance } from '../model/resolved.ts';
import type { Paired, Sides } from './side.ts';

/** Whether there is anything that both are asked. */
function akin(a: Instance, b: Instance): boolean {
  return a.roles.some((role) => b.roles.includes(role));
}

function sameRoles(a: Instance, b: Instance): boolean {
  return JSON.stringify([...a.roles].sort()) === JSON.stringify([...b.roles].sort());
}

/**
 * Which instance of A is held against which of B: those of one name, then those of one dialect, then those of one kind,
 * each in file order. A side that names one instance is held against the other's one.
 */
export function pairInstances({ a, b }: Sides): readonly Paired[] {
  const ofA = a.resolved.instances.filter(({ name }) => a.only === undefined || name === a.only);
  const ofB = b.resolved.instances.filter(({ name }) => b.only === undefined || name === b.only);
  if (a.only !== undefined && b.only !== undefined) return [{ a: ofA[0], b: ofB[0] }];
  const partner = new Map<Instance, Instance>();
  const taken = new Set<Instance>();
  const fits: readonly ((one: Instance, two: Instance) => boolean)[] = [
    (one, two) => one.name === two.name && akin(one, two),
    (one, two) => one.dialect.data.dialect === two.dialect.data.dialect,
    sameRoles,
  ];
  for (const fit of fits) {
    for (const one of ofA) {
      if (partner.has(one)) continue;
      const two = ofB.find((candidate) => !taken.has(candidate) && fit(one, candidate));
      if (two === undefined) continue;
      partner.set(one, two);
      taken.add(two);
    }
  }
  return [
    ...ofA.map((one): Paired => ({ a: one, b: partner.get(one) })),
    ...ofB.filter((two) => !taken.has(two)).map((two): Paired => ({ a: undefined, b: two })),
  ];
}
