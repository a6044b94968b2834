import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Facts } from './merge-facts.ts';
import { instanceEntries } from './read-instances.ts';

const needed = ['dialect', 'version', 'root'] as const;

const wayOuts: Readonly<Record<(typeof needed)[number], string>> = {
  dialect: 'Add dialect:, with the name of the dialect and its versions, as in harrow@^1.4.',
  version: 'Add version:, with the version of the frontend or unknown.',
  root: "Add root:, with the part of the card and the folder of its files, as in 'settings:hall'.",
};

/**
 * What an instance must have is asked of all layers together, since each may say a part of it. An instance that lacks
 * something is left out, with a `missing-key` for each lack.
 */
export function completeFacts(facts: Facts): Outcome<Facts> {
  const findings: Finding[] = [];
  const incomplete = new Set<string>();
  for (const { name, written, path } of instanceEntries(facts)) {
    for (const member of needed) {
      if (Object.hasOwn(written, member)) continue;
      incomplete.add(path.join('.'));
      findings.push(
        makeFinding('missing-key', {
          place: facts.keyPlace(path),
          instance: name,
          detail: `${path.join('.')} has no ${member} in any layer.`,
          wayOut: wayOuts[member],
        }),
      );
    }
  }
  if (findings.length === 0) return { value: facts, findings };
  const { os, ...device } = facts.device;
  const kept = Object.entries(facts.frontends).filter(([name]) => !incomplete.has(`frontends.${name}`));
  return {
    value: {
      ...facts,
      device: os === undefined || incomplete.has('device.os') ? device : facts.device,
      frontends: Object.fromEntries(kept),
    },
    findings,
  };
}
