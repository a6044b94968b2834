import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Instance } from '../../model/resolved.ts';
import { players } from '../ask.ts';
import type { Rule, RuleInput } from '../contract.ts';

/** Where an instance keeps states: what the profile says, else its dialect's own default folder. */
function stateFolder(instance: Instance, { resolved }: RuleInput): string | undefined {
  const decision = resolved.decide(instance, 'saves.state-folder', {});
  if (decision?.value.kind === 'place') return `${decision.value.part}:${decision.value.folder}`;
  const own = instance.dialect.data.states?.at(-1)?.folder;
  return own?.includes('{{root}}') === true ? undefined : own;
}

/** Two instances that keep states in one folder, but run a system by other cores or versions: each overwrites, and cannot read, the other's. */
export const sharedStates: Rule = {
  name: 'shared-states',
  codes: ['shared-states-differ'],
  check(input) {
    const { resolved } = input;
    const findings: Finding[] = [];
    const all = players(resolved);
    all.forEach((one, index) => {
      for (const two of all.slice(index + 1)) {
        const folder = stateFolder(one, input);
        if (folder === undefined || folder !== stateFolder(two, input)) continue;
        for (const system of resolved.chosenCores.keys()) {
          const first = resolved.decide(one, 'cores.choice', { system })?.value;
          const second = resolved.decide(two, 'cores.choice', { system })?.value;
          if (first?.kind !== 'core' || second?.kind !== 'core') continue;
          const versions = [one.cores?.get(first.core), two.cores?.get(second.core)] as const;
          const reads = resolved.catalog?.data.cores?.[first.core]?.states?.reads ?? [];
          const readable = versions.every(
            (version) =>
              version !== undefined && reads.some((known) => version === known || version.startsWith(`${known}.`)),
          );
          if (first.core === second.core && (versions[0] === versions[1] || readable)) continue;
          findings.push(
            makeFinding('shared-states-differ', {
              place: two.place,
              related: [
                { place: one.place, note: `${one.name} runs ${system} by ${first.core} ${versions[0] ?? ''}`.trim() },
              ],
              instance: two.name,
              about: [one.name, system],
              detail: `${one.name} and ${two.name} keep states in one folder, but run ${system} by ${first.core} ${versions[0] ?? '(version unknown)'} and ${second.core} ${versions[1] ?? '(version unknown)'}, which do not read each other's states.`,
              wayOut:
                'Give each its own saves.state-folder in an only block, or choose one core of one version for both.',
            }),
          );
        }
      }
    });
    return findings;
  },
};
