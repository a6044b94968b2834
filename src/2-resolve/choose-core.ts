import type { CatalogDocument } from '../model/document.ts';
import type { CoreWish, Device, Instance, Rejected } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';

export interface CoreChoice {
  readonly value: Extract<Value, { kind: 'core' }> | undefined;
  readonly rejected: readonly Rejected[];
}

/** Why an instance cannot run a core for a system; undefined when it can. */
export function whyNotCore(
  core: string,
  system: string,
  instance: Instance,
  device: Device,
  catalog: CatalogDocument,
): string | undefined {
  const entry = Object.hasOwn(catalog.data.cores ?? {}, core) ? catalog.data.cores?.[core] : undefined;
  if (!instance.roles.includes('player')) return `${instance.name} plays no games`;
  if (instance.cores === undefined) return `the profile lists no cores for ${instance.name}`;
  if (!instance.cores.has(core)) return `${instance.name} does not have ${core}`;
  if (entry === undefined) return `the catalog does not know ${core}`;
  if (!entry.systems.includes(system)) return `${core} does not run ${system}`;
  if (entry.bits !== undefined && instance.bits !== undefined && !entry.bits.includes(instance.bits)) {
    return `${core} exists for ${entry.bits.join(' and ')} bits, ${instance.name} has ${instance.bits}`;
  }
  if (entry.needs !== undefined && device.performance !== undefined && entry.needs > device.performance) {
    return `${core} needs performance ${entry.needs}, ${device.name} has ${device.performance}`;
  }
  return undefined;
}

/**
 * The first wish that some instance can run. `among`: the instances asked, in file order; a wish that names an
 * instance is tried on that one alone. Every wish passed over has its reasons.
 */
export function chooseCore(
  wishes: readonly CoreWish[],
  system: string,
  among: readonly Instance[],
  device: Device,
  catalog: CatalogDocument,
): CoreChoice {
  const rejected: Rejected[] = [];
  for (const wish of wishes) {
    const asked = wish.instance === undefined ? among : among.filter((instance) => instance.name === wish.instance);
    const reasons: string[] = [];
    for (const instance of asked) {
      const why = whyNotCore(wish.core, system, instance, device, catalog);
      if (why === undefined) return { value: { kind: 'core', instance: instance.name, core: wish.core }, rejected };
      if (instance.roles.includes('player')) reasons.push(why);
    }
    const what = wish.instance === undefined ? wish.core : `${wish.instance}/${wish.core}`;
    const none = wish.instance === undefined ? 'no frontend here plays games' : `it is asked of ${wish.instance} alone`;
    rejected.push({ what, why: reasons.length > 0 ? reasons.join('; ') : none, place: wish.place });
  }
  return { value: undefined, rejected };
}
