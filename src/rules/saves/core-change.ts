import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** On a card that is in use: another core than the one that made its states (and, where the formats differ, its saves). */
export const coreChange: Rule = {
  name: 'core-change',
  codes: ['core-change-strands-states'],
  check({ resolved, lens, look, card }) {
    if (card === undefined) return [];
    const findings: Finding[] = [];
    for (const instance of players(resolved)) {
      for (const system of resolved.chosenCores.keys()) {
        const wanted = resolved.decide(instance, 'cores.choice', { system });
        if (wanted?.value.kind !== 'core') continue;
        const read = lens(instance.name)?.read('cores.choice', { system }, look);
        const now = read?.kind === 'value' ? read.value : undefined;
        if (now?.kind !== 'core' || now.core === wanted.value.core) continue;
        const format = (core: string): string | undefined => resolved.catalog?.data.cores?.[core]?.saves?.format;
        const savesToo = format(now.core) !== format(wanted.value.core);
        findings.push(
          makeFinding('core-change-strands-states', {
            place: wanted.origin.place,
            setting: 'cores.choice',
            instance: instance.name,
            about: [system, now.core, wanted.value.core],
            detail: `On the card ${instance.name} runs ${system} by ${now.core}; with ${wanted.value.core} the states made there cannot be loaded${savesToo ? ', and the games’ own saves may not be read either' : ''}.`,
            wayOut: `Save inside each game first, then change; or keep ${now.core}.`,
          }),
        );
      }
    }
    return findings;
  },
};
