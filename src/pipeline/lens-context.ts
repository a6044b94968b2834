import type { LoadedDialect } from '../1-load/load-dialect.ts';
import type { Context } from '../dialect/contract.ts';
import type { Instance, Resolved } from '../model/resolved.ts';

/** All that an instance's spellings depend on. */
export function contextOf(resolved: Resolved, instance: Instance, dialect: LoadedDialect): Context {
  return {
    dialect: dialect.document,
    templates: dialect.templates,
    device: { id: resolved.device.id, name: resolved.device.name },
    instance: instance.name,
    root: instance.root,
    version: instance.version,
    parts: resolved.device.parts,
    controls: resolved.device.controls,
    numbering: instance.numbering,
    hold: resolved.holds.get(instance.name),
    catalog: resolved.catalog?.data,
    bits: instance.bits,
    instances: new Map(
      resolved.instances.map((other) => [other.name, { dialect: other.dialect.data.dialect, bits: other.bits }]),
    ),
  };
}
