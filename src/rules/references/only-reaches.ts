import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Resolved } from '../../model/resolved.ts';
import type { ForWritten } from '../../vocabulary/shapes/profile.ts';
import type { Rule } from '../contract.ts';

function listed(value: string | readonly string[] | undefined): readonly string[] | undefined {
  return value === undefined ? undefined : typeof value === 'string' ? [value] : value;
}

/** Why a block of the profile can never win anywhere; undefined when it can. */
function whyNothing(block: ForWritten, resolved: Resolved): string | undefined {
  const frontend = listed(block.frontend);
  const core = listed(block.core);
  const system = listed(block.system);
  const cores = resolved.catalog?.data.cores ?? {};
  const instances = resolved.instances.filter(
    (i) => frontend === undefined || frontend.includes(i.name) || frontend.includes(i.dialect.data.dialect),
  );
  // A name that nothing has is told by itself.
  if (instances.length === 0) return undefined;
  if (core !== undefined && !instances.some((i) => core.some((name) => i.cores?.has(name) ?? false))) {
    return `no frontend it is for has ${core.join(' or ')}`;
  }
  if (core !== undefined && system !== undefined) {
    const runs = core.some(
      (name) => !Object.hasOwn(cores, name) || system.some((s) => cores[name]?.systems.includes(s) ?? true),
    );
    if (!runs) return `${core.join(' or ')} does not run ${system.join(' or ')}`;
  }
  return undefined;
}

/** An `only` block of the profile that reaches nothing on this device. (A house serves other devices as well.) */
export const onlyReaches: Rule = {
  name: 'only-reaches',
  codes: ['only-reaches-nothing'],
  check({ resolved }) {
    const findings: Finding[] = [];
    (resolved.profile.data.only ?? []).forEach((block, index) => {
      const why = whyNothing(block.for, resolved);
      if (why === undefined) return;
      findings.push(
        makeFinding('only-reaches-nothing', {
          place: resolved.profile.place(['only', index, 'for']),
          detail: `The settings of this block reach nothing on this device: ${why}.`,
          wayOut: 'Correct the names after for:, or remove the block.',
        }),
      );
    });
    return findings;
  },
};
