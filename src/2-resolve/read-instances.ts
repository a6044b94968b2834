import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Numbering } from '../model/device.ts';
import type { DialectDocument } from '../model/document.ts';
import { cardPath, splitCardPath } from '../model/paths.ts';
import type { Device, Instance } from '../model/resolved.ts';
import type { InstanceWritten } from '../vocabulary/shapes/profile.ts';
import type { Role } from '../vocabulary/types.ts';
import type { Facts } from './merge-facts.ts';
import { readNumbering } from './read-numbering.ts';

/** Instance names and where each is written: `os` first, then the frontends in file order. */
export function instanceEntries(
  facts: Facts,
): readonly { readonly name: string; readonly written: InstanceWritten; readonly path: readonly string[] }[] {
  const frontends = Object.entries(facts.frontends).map(([name, written]) => ({
    name,
    written,
    path: ['frontends', name],
  }));
  const { os } = facts.device;
  return os === undefined ? frontends : [{ name: 'os', written: os, path: ['device', 'os'] }, ...frontends];
}

/** `dialects`: the dialect taken for each instance; instances without one are left out (their finding is made). */
export function readInstances(
  facts: Facts,
  device: Device,
  dialects: ReadonlyMap<string, DialectDocument>,
): Outcome<readonly Instance[]> {
  const findings: Finding[] = [];
  const instances: Instance[] = [];
  for (const { name, written, path } of instanceEntries(facts)) {
    const dialect = dialects.get(name);
    if (dialect === undefined) continue;
    const root = cardPath(written.root);
    if (root === undefined) {
      findings.push(
        makeFinding('bad-root', {
          place: facts.place([...path, 'root']),
          instance: name,
          detail: 'A root is a part of the card and a folder in it, without .. or an absolute path.',
          wayOut: "Write it as 'settings:hall'.",
        }),
      );
      continue;
    }
    const { part } = splitCardPath(root);
    if (!device.parts.has(part)) {
      findings.push(
        makeFinding('unknown-part', {
          place: facts.place([...path, 'root']),
          instance: name,
          detail: `The root of ${name} is on a part called ${part}, which device.parts does not list.`,
          wayOut:
            device.parts.size > 0
              ? `Write one of ${[...device.parts.keys()].join(', ')}, or list ${part} under device.parts.`
              : `List ${part} under device.parts.`,
        }),
      );
      continue;
    }
    let numbering: Numbering | undefined;
    if (written.numbering !== undefined) {
      const read = readNumbering(written.numbering, facts.place([...path, 'numbering']));
      findings.push(...read.findings);
      numbering = read.value;
    }
    const roles: readonly string[] = typeof dialect.data.role === 'string' ? [dialect.data.role] : dialect.data.role;
    instances.push({
      name,
      roles: roles.filter(isRole),
      dialect,
      version: written.version === 'unknown' ? undefined : written.version,
      root,
      bits: written.bits,
      cores: written.cores === undefined ? undefined : new Map(Object.entries(written.cores)),
      numbering,
      place: facts.keyPlace(path),
    });
  }
  return { value: instances, findings };
}

function isRole(text: string): text is Role {
  return text === 'player' || text === 'menu' || text === 'shelf' || text === 'system';
}
